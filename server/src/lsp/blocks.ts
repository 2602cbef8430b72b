/** What the form for generated blocks asks: the kinds, the parameters at a place, the block that values make. */
import type { CancellationToken } from 'vscode-languageserver';
import type { BlockKind } from '../core/blocks/blockKind.ts';
import { type BlockContext, contextAt } from '../core/blocks/context.ts';
import type { RawValues } from '../core/blocks/parameter.ts';
import { BLOCKS, blockByName } from '../core/blocks/registry.ts';
import {
  type BlockForm,
  blockForm,
  blockHere,
  type FormResult,
  formResult,
  isFree,
} from '../core/features/blockForm.ts';
import { invalidParams } from './params.ts';
import type { Program } from './programs.ts';

/** Brings the program of a message up to date; undefined where the message is about a shop's file. */
type UpToDate = (params: unknown, token: CancellationToken) => Promise<Program | undefined>;

interface Place {
  readonly kind: BlockKind;
  readonly line: number;
  readonly replaced: number;
}

interface KnownContext {
  readonly runCount: number;
  readonly line: number;
  readonly replaced: number;
  readonly context: BlockContext;
}

/** Answers for all programs. */
export class Blocks {
  private readonly upToDate: UpToDate;
  /** A context reads the whole text: it is kept as long as the text and the place stay, while values are typed. */
  private readonly contexts = new WeakMap<Program, KnownContext>();

  constructor(upToDate: UpToDate) {
    this.upToDate = upToDate;
  }

  /** Kinds of blocks, and the generated block that a line stands in. */
  async kinds(params: unknown, token: CancellationToken) {
    const line: unknown = (params as { line?: unknown } | null)?.line;
    const { analysis } = await this.need(params, token);
    if (!isWhole(line) || line > analysis.lineCount) throw invalidParams('line is no line of the program');
    const here = blockHere(analysis, line);
    const kinds = BLOCKS.map(({ name, title, summary, prefix }) => ({ name, title, summary, prefix }));
    return { kinds, isFree: isFree(analysis, line), ...(here !== undefined && { here }) };
  }

  /** The form of a kind at a place. */
  async form(params: unknown, token: CancellationToken): Promise<BlockForm> {
    const program = await this.need(params, token);
    const place = placeOf(params, program);
    return blockForm(place.kind, this.contextOf(program, place));
  }

  /** The block that values make at a place. */
  async block(params: unknown, token: CancellationToken): Promise<FormResult & { version: number }> {
    const program = await this.need(params, token);
    const place = placeOf(params, program);
    const { values, kept, isRevised } = params as { values?: unknown; kept?: unknown; isRevised?: unknown };
    const given = {
      typed: textsOf(values, 'values'),
      kept: textsOf(kept ?? {}, 'kept'),
      isRevised: isRevised === true,
    };
    return { ...formResult(place.kind, given, this.contextOf(program, place)), version: program.version };
  }

  private async need(params: unknown, token: CancellationToken): Promise<Program> {
    const program = await this.upToDate(params, token);
    if (program === undefined) throw invalidParams('the document is no program');
    return program;
  }

  private contextOf(program: Program, { line, replaced }: Place): BlockContext {
    const { runCount, analysis, configuration } = program;
    const known = this.contexts.get(program);
    if (known?.runCount === runCount && known.line === line && known.replaced === replaced) return known.context;
    const context = contextAt(analysis, line, configuration, replaced);
    this.contexts.set(program, { runCount, line, replaced, context });
    return context;
  }
}

const isWhole = (value: unknown): value is number => Number.isSafeInteger(value) && (value as number) >= 0;

const placeOf = (params: unknown, { analysis }: Program): Place => {
  const { name, line, replaced = 0 } = params as { name?: unknown; line?: unknown; replaced?: unknown };
  const kind = typeof name === 'string' ? blockByName(name) : undefined;
  if (kind === undefined) throw invalidParams(`there is no block ${String(name)}`);
  if (!isWhole(line) || line > analysis.lineCount) throw invalidParams('line is no line of the program');
  if (!isWhole(replaced) || line + replaced > analysis.lineCount) throw invalidParams('replaced goes past the end');
  return { kind, line, replaced };
};

const textsOf = (value: unknown, name: string): RawValues => {
  if (typeof value !== 'object' || value === null || Object.values(value).some((text) => typeof text !== 'string')) {
    throw invalidParams(`${name} takes texts by the names of parameters`);
  }
  return value as RawValues;
};

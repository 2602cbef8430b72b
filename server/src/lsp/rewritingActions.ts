/** Code actions that rewrite a program without changing what it does: block numbers, and lines of the other unit. */
import {
  type CancellationToken,
  type CodeAction,
  CodeActionKind,
  type Range,
  TextDocumentEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver';
import { conversionOf, conversionTitle, convertUnits } from '../core/features/convertUnits.ts';
import type { LineChange, Outcome } from '../core/features/formatEdits.ts';
import { type Renumbering, renumber } from '../core/features/renumber.ts';
import { proofSource, toLineEdits } from './formatting.ts';
import type { PastedLines } from './pasted.ts';
import type { Program } from './programs.ts';
import type { Server } from './server.ts';
import { inSlices } from './slices.ts';

/** Who asks, and for what. */
interface Asking {
  readonly range: Range;
  /** Kinds that are wanted; undefined where nothing is said. */
  readonly only: readonly string[] | undefined;
  /** Somebody asked for actions, and not only the light bulb. */
  readonly isAsked: boolean;
  readonly token: CancellationToken;
}

/** The block number actions by their kind. Editors list them under "Source action". */
const NUMBERINGS: readonly { readonly kind: string; readonly how: Renumbering; title(step: number): string }[] = [
  { kind: 'source.renumber', how: 'renumber', title: (step) => `Renumber N by ${step}` },
  { kind: 'source.addSequenceNumbers', how: 'add', title: (step) => `Add sequence numbers by ${step}` },
  {
    kind: 'source.removeSequenceNumbers',
    how: 'remove',
    title: () => 'Remove sequence numbers that nothing leads to',
  },
];

/** The actions for a range of an up-to-date program. Each is executed before it is offered; what is refused is offered as not available, with the reason. */
export async function rewritingActions(server: Server, program: Program, asking: Asking): Promise<CodeAction[]> {
  return [...(await numberActions(server, program, asking)), ...(await conversions(server, program, asking))];
}

async function numberActions(server: Server, program: Program, { only, token }: Asking): Promise<CodeAction[]> {
  const actions: CodeAction[] = [];
  const { blockNumbers } = program.configuration;
  for (const { kind, how, title } of NUMBERINGS) {
    // Whoever names no source action has no use for them: they are about the whole program.
    if (only === undefined || !only.some((wanted) => kind === wanted || kind.startsWith(`${wanted}.`))) continue;
    const work = renumber(proofSource(server, program), how, blockNumbers);
    const outcome = await inSlices(server, program, work, token);
    actions.push(...offered(server, program, { title: title(blockNumbers.step), kind }, outcome));
  }
  return actions;
}

async function conversions(server: Server, program: Program, asking: Asking): Promise<CodeAction[]> {
  const { range, only, isAsked, token } = asking;
  const kind = CodeActionKind.RefactorRewrite;
  const isWanted = only === undefined || only.some((wanted) => wanted === '' || `${kind}.`.startsWith(`${wanted}.`));
  const lines = isAsked && isWanted ? linesOf(range, program.pasted) : undefined;
  if (lines === undefined) return [];
  const source = proofSource(server, program);
  const conversion = conversionOf(source, lines);
  if (conversion === undefined) return [];
  const titled = (title: string): string => (lines.arePasted ? title.replace('these', 'the pasted') : title);
  if ('why' in conversion) {
    const title = titled('Convert these lines between inch and mm');
    return offered(server, program, { title, kind }, { refusal: conversion });
  }
  const outcome = await inSlices(server, program, convertUnits(source, conversion), token);
  return offered(server, program, { title: titled(conversionTitle(conversion)), kind }, outcome);
}

/** The lines that are asked about: those that are selected, or those that were just pasted where the cursor stands. */
function linesOf(
  { start, end }: Range,
  pasted: PastedLines | undefined,
): (PastedLines & { arePasted: boolean }) | undefined {
  if (start.line !== end.line) {
    return { firstLine: start.line, lastLine: end.character === 0 ? end.line - 1 : end.line, arePasted: false };
  }
  // Behind a paste the cursor often stands in the line below.
  if (pasted === undefined || start.line < pasted.firstLine || start.line > pasted.lastLine + 1) return undefined;
  return { ...pasted, arePasted: true };
}

/** An action with its edit; not available, with the reason, where it is refused and the client can show that; none where it would change nothing. */
function offered(server: Server, program: Program, action: CodeAction, outcome: Outcome): CodeAction[] {
  if ('refusal' in outcome) {
    return server.client.showsDisabledActions ? [{ ...action, disabled: { reason: outcome.refusal.why } }] : [];
  }
  return outcome.changes.length === 0 ? [] : [{ ...action, edit: editOf(server, program, outcome.changes) }];
}

function editOf(server: Server, program: Program, changes: readonly LineChange[]): WorkspaceEdit {
  const edits = toLineEdits(changes);
  if (!server.client.versionsEdits) return { changes: { [program.uri]: edits } };
  return { documentChanges: [TextDocumentEdit.create({ uri: program.uri, version: program.version }, edits)] };
}

/**
 * Everything that uses what stands at a place: moves at a feed or of a tool, uses of a variable, jumps to a sequence
 * number, calls of a program. Looks through the whole program, so it pauses now and then.
 */
import type { Analysis } from '../checks/analysis.ts';
import { FactKind } from '../checks/facts.ts';
import type { Configuration } from '../machine/configuration.ts';
import { Mode } from '../machine/modes.ts';
import type { Block } from '../syntax/block.ts';
import type { VariableName } from '../syntax/variables.ts';
import { programCalls, unitsSharing } from './definitionScope.ts';
import { type Subject, subjectAt } from './definitionSubject.ts';
import { modeOfWord, type OriginMode, spanOfWord } from './modeOriginFinders.ts';
import { linesUnderMode } from './referencesModes.ts';
import { type NamedPlace, programPlaces, sequencePlaces, variablePlaces } from './referencesNames.ts';
import { type ProgramText, textOfAnalysis } from './referencesText.ts';
import type { TokenSpan } from './referencesTokens.ts';

/** All uses, in the order of lines. */
export interface References {
  readonly places: readonly NamedPlace[];
  /** There are more than were looked for. */
  readonly isCutShort: boolean;
  /** A program whose calls in other files count too. */
  readonly program?: number;
}

/** Uses of what stands at a place, at most `most`; undefined where it has none. The analysis must be up to date. */
export function* referencesAt(
  analysis: Analysis,
  configuration: Configuration,
  line: number,
  column: number,
  most: number,
): Generator<undefined, References | undefined> {
  const found = subjectAt(analysis, configuration.profile, line, column);
  if (found === undefined) return undefined;
  const search = new ReferenceSearch(analysis, configuration, line, found.block, most);
  const all = yield* search.of(found.subject);
  if (all === undefined || (all.places.length === 0 && all.program === undefined)) return undefined;
  return { ...all, places: all.places.slice(0, most), isCutShort: all.places.length > most };
}

type Found = Omit<References, 'isCutShort'> | undefined;

class ReferenceSearch {
  private readonly analysis: Analysis;
  private readonly configuration: Configuration;
  private readonly text: ProgramText;
  private readonly line: number;
  private readonly block: Block;
  private readonly most: number;

  constructor(analysis: Analysis, configuration: Configuration, line: number, block: Block, most: number) {
    this.analysis = analysis;
    this.configuration = configuration;
    this.text = textOfAnalysis(analysis, configuration.profile);
    this.line = line;
    this.block = block;
    this.most = most;
  }

  *of(subject: Subject): Generator<undefined, Found> {
    switch (subject.kind) {
      case 'variable':
        return subject.name === undefined ? undefined : { places: yield* this.variable(subject.name) };
      case 'sequence': {
        if (subject.number === undefined) return undefined;
        const unit = yield* this.unitOfSequence(subject.number, subject.role);
        return { places: yield* sequencePlaces(this.text, unit, subject.number, this.most) };
      }
      case 'program':
        return subject.number === undefined ? undefined : yield* this.program(subject.number);
      case 'return': {
        const { number } = this.text.layout.unitOf(this.line);
        return number < 0 ? undefined : yield* this.program(number);
      }
      case 'loop': {
        const { head, end } = subject.loop;
        const ends = [head, end].filter((at) => at >= 0);
        return { places: ends.map((at) => ({ ...this.whole(at), isSet: false })) };
      }
      case 'word':
        return yield* this.word(subject.word);
      case 'block':
        return undefined;
    }
  }

  private *variable(name: VariableName): Generator<undefined, NamedPlace[]> {
    const calls = yield* programCalls(this.text, Number.POSITIVE_INFINITY);
    return yield* variablePlaces(this.text, name, unitsSharing(this.text, calls, name, this.line), this.most);
  }

  /** The line whose program the sequence number belongs to: M99 P names one of the caller. */
  private *unitOfSequence(number: number, role: string): Generator<undefined, number> {
    const { layout } = this.text;
    const unit = layout.unitOf(this.line);
    if (role !== 'return' || unit === layout.units[0]) return this.line;
    const calls = yield* programCalls(this.text, Number.POSITIVE_INFINITY);
    const caller = calls.find((call) => call.number === unit.number && layout.jumpTarget(number, call.line) >= 0);
    return caller?.line ?? this.line;
  }

  private *program(number: number): Generator<undefined, Found> {
    return { places: yield* programPlaces(this.text, number, this.most), program: number };
  }

  private *word(word: number): Generator<undefined, Found> {
    const { analysis, configuration, block, line } = this;
    const mode = modeOfWord(block, word, configuration.profile);
    if (mode === undefined) return undefined;
    const own: NamedPlace = { line, ...spanOfWord(block, word), isSet: true };
    const lines = yield* linesUnderMode(analysis, configuration, mode, line, this.most);
    const moves = lines.filter((at) => at !== line).map((at) => ({ ...this.whole(at), isSet: false }));
    const places = [...this.setters(mode, own), ...moves];
    return { places: places.sort((a, b) => a.line - b.line) };
  }

  /** The words that set it: for a tool all its changes. */
  private setters(mode: OriginMode, own: NamedPlace): NamedPlace[] {
    if (mode !== 'tool') return [own];
    const tool = this.analysis.stateAfter(this.line).modes[Mode.tool];
    const changes = this.analysis
      .programFacts()
      .of(FactKind.toolChange)
      .filter(({ a, line }) => a === tool && line !== this.line);
    const lines = [...new Set(changes.map(({ line }) => line))];
    return [own, ...lines.map((line) => ({ ...this.whole(line), isSet: true }))];
  }

  /** A line without the blanks around it and its remarks. */
  private whole(line: number): { readonly line: number } & TokenSpan {
    const text = this.analysis.lineText(line);
    const bare = text.replace(/\s*(?:\([^)]*\)?|;.*)\s*$/, '').trimEnd();
    const endColumn = bare.length > 0 ? bare.length : text.trimEnd().length;
    return { line, column: text.length - text.trimStart().length, endColumn };
  }
}

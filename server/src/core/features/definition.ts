/**
 * Where something comes from that stands at a place: the modes of a move with the words that set them, the target of a
 * jump or call, the other end of a loop, the assignment of a variable that was executed last.
 */
import type { Analysis } from '../checks/analysis.ts';
import type { Configuration } from '../machine/configuration.ts';
import { Mode } from '../machine/modes.ts';
import { type Block, letterIndex } from '../syntax/block.ts';
import type { VariableName } from '../syntax/variables.ts';
import { isMainUnit, programCalls, unitsSharing, variableFinder } from './definitionScope.ts';
import { type Subject, subjectAt } from './definitionSubject.ts';
import { type OriginPlace, RunBack } from './modeOrigin.ts';
import { modeFinder, modeOfWord, type OriginMode } from './modeOriginFinders.ts';
import { headLineOf, headOfLine } from './referencesNames.ts';
import { allOf, type ProgramText, type TextSpan, textOfAnalysis } from './referencesText.ts';
import type { TokenSpan } from './referencesTokens.ts';

/** What was asked for, and where it comes from. */
export interface Definition {
  /** Columns of what stands at the place that was asked for. */
  readonly column: number;
  readonly endColumn: number;
  readonly places: readonly OriginPlace[];
  /** A program that is in a file of its own. */
  readonly program?: number;
  /** Number of the program at the place, whose calls in other files count too. */
  readonly calledAs?: number;
}

/** Calls that are told of at most. */
const MOST_CALLS = 1000;

/** What stands at a place; undefined where nothing comes from elsewhere. The analysis must be up to date. */
export const definitionAt = (
  analysis: Analysis,
  configuration: Configuration,
  line: number,
  column: number,
): Definition | undefined => {
  const found = subjectAt(analysis, configuration.profile, line, column);
  if (found === undefined) return undefined;
  const { subject, block } = found;
  const definition = new DefinitionSearch(analysis, configuration, line, block).of(subject);
  const isEmpty =
    definition.places.length === 0 && definition.program === undefined && definition.calledAs === undefined;
  return isEmpty ? undefined : { column: subject.column, endColumn: subject.endColumn, ...definition };
};

type Found = Omit<Definition, 'column' | 'endColumn'>;

const NONE: Found = { places: [] };

class DefinitionSearch {
  private readonly analysis: Analysis;
  private readonly configuration: Configuration;
  private readonly line: number;
  private readonly block: Block;
  private readonly text: ProgramText;

  constructor(analysis: Analysis, configuration: Configuration, line: number, block: Block) {
    this.analysis = analysis;
    this.configuration = configuration;
    this.line = line;
    this.block = block;
    this.text = textOfAnalysis(analysis, configuration.profile);
  }

  of(subject: Subject): Found {
    const { line, analysis } = this;
    switch (subject.kind) {
      case 'variable':
        if (subject.name === undefined) return NONE;
        return subject.isSet ? this.here(subject) : { places: this.variable(subject.name) };
      case 'sequence':
        return subject.role === 'label' ? this.here(subject) : this.jump(subject.number, subject.role);
      case 'program':
        return subject.role === 'head' ? this.here(subject) : this.program(subject.number);
      case 'loop': {
        const other = subject.loop.head === line ? subject.loop.end : subject.loop.head;
        return other < 0 ? NONE : { places: [blockSpan(analysis, other)] };
      }
      case 'return':
        return this.calls();
      case 'word':
        return { places: this.word(subject.word) };
      case 'block':
        return { places: modesOfMove(analysis, this.configuration, line, this.block) };
    }
  }

  private here({ column, endColumn }: TokenSpan): Found {
    return { places: [{ line: this.line, column, endColumn }] };
  }

  private jump(number: number | undefined, role: 'goto' | 'return' | 'call'): Found {
    if (number === undefined) return NONE;
    const { layout } = this.analysis;
    if (role !== 'return' || isMainUnit(this.analysis, layout.unitOf(this.line))) {
      const target = layout.jumpTarget(number, this.line);
      return target < 0 ? NONE : { places: [this.head(target)] };
    }
    const callers = this.callsOfUnit();
    const targets = new Set(callers.map(({ line }) => layout.jumpTarget(number, line)).filter((at) => at >= 0));
    return { places: [...targets].map((at) => this.head(at)) };
  }

  /** The sequence or program number of a line, without its letter. */
  private head(line: number): TextSpan {
    const head = headOfLine(this.text, line);
    return head === undefined
      ? blockSpan(this.analysis, line)
      : { line, column: head.first, endColumn: head.endColumn };
  }

  private program(number: number | undefined): Found {
    if (number === undefined) return NONE;
    const unit = this.analysis.layout.unitOfNumber(number);
    if (unit !== undefined) return { places: [this.head(headLineOf(this.text, unit))] };
    return this.analysis.whereIsProgram(number) === 'file' ? { places: [], program: number } : NONE;
  }

  private calls(): Found {
    const { number } = this.analysis.layout.unitOf(this.line);
    const places = this.callsOfUnit();
    return number < 0 ? { places } : { places, calledAs: number };
  }

  private callsOfUnit(): TextSpan[] {
    const { number } = this.analysis.layout.unitOf(this.line);
    if (number < 0) return [];
    const calls = allOf(programCalls(this.text, MOST_CALLS));
    return calls.filter((call) => call.number === number).map(({ line, whole }) => ({ line, ...whole }));
  }

  private variable(name: VariableName): OriginPlace[] {
    const { analysis, configuration, line, text } = this;
    const calls = allOf(programCalls(text, MOST_CALLS));
    const finder = variableFinder(name, unitsSharing(text, calls, name, line));
    const run = new RunBack(analysis, configuration);
    let found = run.before(line, finder);
    // IF … THEN sets nothing where its condition did not hold.
    while (found !== undefined && found.program === undefined && analysis.readBlock(found.line).flow?.condition === 0)
      found = run.before(found.line, finder);
    return places(found, run.inFurtherPass(line, finder));
  }

  private word(word: number): OriginPlace[] {
    const { analysis, configuration, line, block } = this;
    const mode = modeOfWord(block, word, configuration.profile);
    const isMove = mode === undefined || mode === 'motion' || mode === 'cycle';
    if (isMove) return modesOfMove(analysis, configuration, line, block);
    return places(new RunBack(analysis, configuration).ofMode(line, mode));
  }
}

/** A line without the blanks around it. */
const blockSpan = (analysis: Analysis, line: number): TextSpan => {
  const text = analysis.lineText(line);
  return { line, column: text.length - text.trimStart().length, endColumn: text.trimEnd().length };
};

const places = (...found: readonly (OriginPlace | undefined)[]): OriginPlace[] => {
  const seen = new Set<string>();
  return found.filter((place): place is OriginPlace => {
    if (place === undefined) return false;
    const key = `${place.program} ${place.line} ${place.column}`;
    return !seen.has(key) && seen.add(key).size > 0;
  });
};

/** What a move inherits, the most wanted first. */
const INHERITED: readonly OriginMode[] = ['feed', 'speed', 'plane', 'offset', 'tool', 'distance', 'units'];

/** Where all that a move runs under was set. */
const modesOfMove = (analysis: Analysis, configuration: Configuration, line: number, block: Block): OriginPlace[] => {
  const { profile } = configuration;
  const { modes } = analysis.stateAfter(line);
  const run = new RunBack(analysis, configuration);
  const wanted = INHERITED.filter((mode) => mode !== 'feed' || modes[Mode.motion] !== 0 || modes[Mode.cycle] > 0);
  const compensates = modes[Mode.radiusCompensation] === 41 || modes[Mode.radiusCompensation] === 42;
  const also: OriginMode[] = compensates ? ['radiusCompensation'] : [];
  if (!hasMotion(block, configuration))
    also.unshift(modes[Mode.cycle] > 0 && !profile.cyclesAreMotion ? 'cycle' : 'motion');
  const found = [...wanted, ...also].flatMap((mode) => {
    const finder = modeFinder(mode, profile);
    return [run.ofMode(line, mode), run.inFurtherPass(line, finder)];
  });
  return places(...found);
};

const hasMotion = (block: Block, { profile }: Configuration): boolean => {
  for (let word = 0; word < block.wordCount; word++) {
    const mode = block.letters[word] === letterIndex('G') ? modeOfWord(block, word, profile) : undefined;
    if (mode === 'motion' || mode === 'cycle') return true;
  }
  return false;
};

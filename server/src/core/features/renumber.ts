/**
 * Block numbers: added, counted anew, taken away. Jumps, returns and calls that name one go along. The program with its new
 * numbers is executed before they are given: nothing is changed where it would run another way.
 */
import type { Analysis } from '../checks/analysis.ts';
import type { BlockNumbers } from '../machine/configuration.ts';
import { BlockKind } from '../syntax/block.ts';
import { BATCH, counted, type LineChange, LONGEST, lineChange, type Outcome, type Refusal } from './formatEdits.ts';
import { type ReadLine, readLine } from './formatPieces.ts';
import { executedWith, harmOf, type ProofSource } from './formatProof.ts';
import { programScope } from './formatScope.ts';
import { isReturnBlock, type Jump, jumpsOf, knownElsewhere, namedNumber } from './renumberJumps.ts';

/** All blocks get a number; those that have one are counted anew; those that nothing leads to lose theirs. */
export type Renumbering = 'add' | 'renumber' | 'remove';

/** Changes block numbers, with pauses; the outcome comes last. */
export function* renumber(
  source: ProofSource,
  how: Renumbering,
  numbers: Pick<BlockNumbers, 'start' | 'step'>,
): Generator<undefined, Outcome> {
  const { analysis } = source;
  if (analysis.lineCount > LONGEST) return { refusal: { line: -1, why: tooLong(analysis.lineCount) } };
  const survey = yield* surveyOf(source);
  if ('why' in survey) return { refusal: survey };
  const given = newNumbers(source, survey, how, numbers);
  if ('why' in given) return { refusal: given };
  const changes = yield* writtenChanges(source, survey, given);
  if ('why' in changes) return { refusal: changes };
  if (changes.length === 0) return { changes };
  const after = yield* executedWith(source, changes);
  const refusal = strayJump(survey, given, after) ?? (yield* harmOf(source, after));
  return refusal === undefined ? { changes } : { refusal };
}

const tooLong = (lineCount: number): string =>
  `The program has ${counted(lineCount)} lines, and block numbers are changed in programs of up to ${counted(LONGEST)}.`;

/** A block of the program: its line, the number that it has (−1 none), whether that stands in N or behind a colon. */
interface NumberedBlock {
  readonly line: number;
  readonly number: number;
  readonly isColon: boolean;
}

interface Survey {
  readonly blocks: readonly NumberedBlock[];
  readonly jumps: readonly Jump[];
}

/** Reads all blocks, and what leads to their numbers. */
function* surveyOf({ analysis, configuration }: ProofSource): Generator<undefined, Survey | Refusal> {
  const { profile } = configuration;
  const isProgram = programScope(analysis);
  const blocks: NumberedBlock[] = [];
  const jumps: Jump[] = [];
  const elsewhere = knownElsewhere(analysis);
  if (elsewhere !== undefined) return elsewhere;
  for (let line = 0; line < analysis.lineCount; line++) {
    if (line % BATCH === BATCH - 1) yield undefined;
    const read = readLine(analysis.lineText(line), profile);
    if (!isProgram(line)) continue;
    if (READS_ITS_NUMBER.test(read.text))
      return { line, why: `Line ${line + 1} reads the number of the block that runs.` };
    const isColon = /^[\s/\d]*:/.test(read.text);
    if (isBlock(read)) blocks.push({ line, number: read.block.sequenceNumber, isColon });
    const named = namedNumber(line, read, profile);
    if (named === undefined) continue;
    if ('why' in named) return named;
    if (read.block.faults.length > 0)
      return { line, why: `Line ${line + 1} has a mistake in it, and leads to a block number. Put that right first.` };
    jumps.push(...jumpsOf(analysis, named, isReturnBlock(read.block)));
  }
  return { blocks, jumps };
}

/** #4014 and #4114 hold the number of a block on common macro controls (from memory). */
const READS_ITS_NUMBER = /#\s*4\s*[01]\s*1\s*4(?!\s*\d)/;

/** A line with a mistake in it gets no number: nobody knows what it is to be. */
const isBlock = ({ block }: ReadLine): boolean =>
  block.kind !== BlockKind.tapeMark &&
  block.programNumber < 0 &&
  (block.sequenceNumber >= 0 ||
    (block.faults.length === 0 && (block.wordCount > 0 || block.flow !== undefined || block.assigns)));

/** The new number of each line that has one from now on. */
type NewNumbers = ReadonlyMap<number, number>;

const newNumbers = (
  { analysis, configuration }: ProofSource,
  { blocks, jumps }: Survey,
  how: Renumbering,
  { start, step }: Pick<BlockNumbers, 'start' | 'step'>,
): NewNumbers | Refusal => {
  const given = new Map<number, number>();
  if (how === 'remove') {
    const targets = new Set(jumps.map(({ target }) => target));
    for (const { line, number, isColon } of blocks)
      if (number >= 0 && (isColon || targets.has(line))) given.set(line, number);
    return given;
  }
  const lost = jumps.find(({ target }) => target === -1);
  if (lost !== undefined) {
    const { line, number } = lost;
    return { line, why: `Line ${line + 1} leads to N${number}, which no block has. Put that right first.` };
  }
  const fixed = new Set(blocks.filter(({ isColon }) => isColon).map(({ number }) => number));
  const { sequenceNumberMax } = configuration.profile;
  let unit = analysis.layout.units[0];
  let next = start;
  for (const { line, number, isColon } of blocks) {
    if (analysis.layout.unitOf(line) !== unit) {
      unit = analysis.layout.unitOf(line);
      next = start;
    }
    if (isColon) given.set(line, number);
    if (isColon || (how === 'renumber' && number < 0)) continue;
    while (fixed.has(next)) next += step;
    if (next > sequenceNumberMax) return { line, why: outOfNumbers(line, next, sequenceNumberMax) };
    given.set(line, next);
    next += step;
  }
  return given;
};

const outOfNumbers = (line: number, number: number, most: number): string =>
  `Line ${line + 1} would get N${number}, and this control takes numbers up to N${most}. Take a smaller step.`;

/** The lines with their new numbers, and with those that they name. */
function* writtenChanges(
  { analysis, configuration: { profile } }: ProofSource,
  { blocks, jumps }: Survey,
  given: NewNumbers,
): Generator<undefined, LineChange[] | Refusal> {
  const named = new Map<number, Jump>();
  for (const jump of jumps) {
    const before = named.get(jump.line);
    if (before !== undefined && given.get(before.target) !== given.get(jump.target)) return severalWays(jump.line);
    named.set(jump.line, jump);
  }
  const changes: LineChange[] = [];
  let isTight = false;
  for (const [place, { line, number }] of blocks.entries()) {
    if (place % BATCH === BATCH - 1) yield undefined;
    const before = analysis.lineText(line);
    const jump = named.get(line);
    const target = jump === undefined ? undefined : given.get(jump.target);
    const text = jump === undefined || target === undefined ? before : withTarget(before, jump, target);
    isTight = isTightly(before) ?? isTight;
    const after = number === (given.get(line) ?? -1) ? text : withNumber(text, given.get(line), isTight);
    if (after === before) continue;
    if (after.length > profile.lineLength && after.length > before.length)
      return {
        line,
        why: `Line ${line + 1} would get longer than the ${profile.lineLength} characters that this control takes.`,
      };
    if (!isSameBut(readLine(before, profile), readLine(after, profile), given.get(line) ?? -1))
      return { line, why: `Line ${line + 1} would be read otherwise with another number.` };
    changes.push(lineChange(line, before, after));
  }
  return changes;
}

const severalWays = (line: number): Refusal => ({
  line,
  why: `Line ${line + 1} goes back to blocks of several programs, which would get different numbers.`,
});

const withTarget = (text: string, { column, endColumn }: Jump, target: number): string =>
  text.slice(0, column) + target + text.slice(endColumn);

const HEAD = /^(\s*)((?:\/[1-9]?)?)([ \t]*)(?:(N)([ \t]*)(\d+)\.?)?/i;

/** A line with another number, or none. Figures are filled up with noughts where they were. */
const withNumber = (text: string, number: number | undefined, isTight: boolean): string => {
  const [head, indent, slash, gap, letter, blanks = '', old = ''] = HEAD.exec(text)!;
  const rest = text.slice(head.length);
  if (letter === undefined) {
    const isSmall = /[a-z]/.test(text.replace(/\(.*|;.*/, '')) && !/[A-Z]/.test(text.replace(/\(.*|;.*/, ''));
    // Behind a figure an E would read as a power of ten, an O as a nought.
    const isClose = isTight && !/^[EO]/i.test(rest);
    return number === undefined ? text : `${indent}${slash}${isSmall ? 'n' : 'N'}${number}${isClose ? '' : ' '}${rest}`;
  }
  if (number === undefined) return `${indent}${slash}${slash === '' ? '' : gap}${rest.trimStart()}`;
  const figures = old.startsWith('0') ? String(number).padStart(old.length, '0') : String(number);
  return `${indent}${slash}${gap}${letter}${blanks}${figures}${rest}`;
};

/** True for a line whose words stand close together, false where blanks part them; undefined where it cannot be seen. */
const isTightly = (text: string): boolean | undefined => {
  const found = /[A-Z]\s*[-+]?[\d.]+([ \t]*)[A-Z]/i.exec(text.replace(/\(.*|;.*/, ''));
  return found === null ? undefined : found[1] === '';
};

/** True where two lines are read alike but for the block number, and the number that they name. */
const isSameBut = ({ block: a }: ReadLine, { block: b }: ReadLine, number: number): boolean =>
  b.sequenceNumber === number &&
  a.wordCount === b.wordCount &&
  a.faults.length === b.faults.length &&
  a.deleteLevel === b.deleteLevel &&
  a.kind === b.kind &&
  a.remarks.length === b.remarks.length &&
  a.flow?.kind === b.flow?.kind &&
  a.assigns === b.assigns;

/** A jump that would lead somewhere else now, also where the run never comes through it. */
const strayJump = ({ jumps }: Survey, given: NewNumbers, after: Analysis): Refusal | undefined => {
  const wrong = jumps.find(
    ({ number, from, target }) => after.layout.jumpTarget(given.get(target) ?? number, from) !== target,
  );
  if (wrong === undefined) return undefined;
  return { line: wrong.line, why: `Line ${wrong.line + 1} would lead to another block than now.` };
};

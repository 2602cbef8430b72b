/**
 * Lines whose numbers are in the other unit: pasted from an inch program into a metric one, or the other way round. Their
 * lengths and feeds are written anew; then the program is executed as it was meant, with the unit switched around the lines,
 * and as it is written now, and both must run the same way but for rounding.
 */

import type { Analysis } from '../checks/analysis.ts';
import { Given, Mode } from '../machine/modes.ts';
import { type Conversion, type UnitCode, unitOfWord } from './convertUnitsKind.ts';
import { convertedLine, type LineModes } from './convertUnitsLine.ts';
import { conversionHarm } from './convertUnitsProof.ts';
import { type LineChange, LONGEST, lineChange, type Outcome, type Refusal } from './formatEdits.ts';
import { readLine } from './formatPieces.ts';
import type { FormatRange } from './formatProgram.ts';
import type { ProofSource } from './formatProof.ts';

/** Lines of the range that are looked at for G20 and G21 at once. */
const MOST_LINES = 20_000;

const nameOf = (unit: UnitCode): string => (unit === 20 ? 'inch' : 'mm');

/** "Convert these lines from inch to mm". */
export const conversionTitle = ({ from, to }: Pick<Conversion, 'from' | 'to'>): string =>
  `Convert these lines from ${nameOf(from)} to ${nameOf(to)}`;

/** The unit before a line, and whether the program named it. */
const unitBefore = (analysis: Analysis, line: number): { unit: UnitCode; isGiven: boolean } => {
  const { modes } = analysis.stateBefore(line);
  return { unit: modes[Mode.units] === 20 ? 20 : 21, isGiven: (modes[Mode.given] & Given.units) !== 0 };
};

/**
 * The conversion that some lines can have: of those that say their unit, into the other one; of others, from the other one into
 * the unit that holds where they stand. A refusal where they say both; undefined for lines that are never run.
 */
export const conversionOf = (
  { analysis, configuration }: Pick<ProofSource, 'analysis' | 'configuration'>,
  range: FormatRange,
): Conversion | Refusal | undefined => {
  const { firstLine, lastLine } = range;
  if (lastLine - firstLine >= MOST_LINES || analysis.lineCount > LONGEST || !analysis.isReached(firstLine))
    return undefined;
  const said = new Set<UnitCode>();
  for (let line = firstLine; line <= lastLine; line++) {
    const { block } = readLine(analysis.lineText(line), configuration.profile);
    for (let i = 0; i < block.wordCount; i++) {
      const unit = unitOfWord(block.letters[i], block.values[i], configuration);
      if (unit === undefined) continue;
      said.add(unit);
      if (said.size > 1)
        return { line, why: `Line ${line + 1} changes the unit among the lines. Select lines of one unit.` };
    }
  }
  const [own] = said;
  const from = own ?? otherUnit(unitBefore(analysis, firstLine).unit);
  return { range, from, to: otherUnit(from), saysUnit: own !== undefined };
};

const otherUnit = (unit: UnitCode): UnitCode => (unit === 20 ? 21 : 20);

/** Decimals more than usual that are tried where rounding makes an arc wrong. */
const MORE_PLACES: readonly number[] = [0, 1];

/** Converts lines, with pauses; the outcome comes last. */
export function* convertUnits(source: ProofSource, conversion: Conversion): Generator<undefined, Outcome> {
  let refusal: Refusal | undefined;
  for (const morePlaces of MORE_PLACES) {
    const changes = convertedLines(source, conversion, morePlaces);
    if ('why' in changes) return { refusal: changes };
    if (changes.length === 0) return { changes };
    const isRestAlike = !conversion.saysUnit || !isUnitAround(source.analysis, conversion);
    const harm = yield* conversionHarm(source, conversion, changes, isRestAlike);
    if (harm === undefined) return { changes };
    refusal ??= harm;
  }
  return { refusal: refusal! };
}

/** True where the lines stand in a program of the unit that they get: what follows them counts in it already. */
const isUnitAround = (analysis: Analysis, { range, to }: Conversion): boolean => {
  const { unit, isGiven } = unitBefore(analysis, range.firstLine);
  return isGiven && unit === to;
};

const convertedLines = (source: ProofSource, conversion: Conversion, morePlaces: number): LineChange[] | Refusal => {
  const { analysis, configuration } = source;
  const { firstLine, lastLine } = conversion.range;
  const modesOf = modesBehind(analysis, conversion.range);
  // What rounding took from a way in G91 is given to the next one.
  const carried = new Float64Array(26);
  const changes: LineChange[] = [];
  for (let line = firstLine; line <= lastLine; line++) {
    const text = analysis.lineText(line);
    const modes = modesOf(line);
    const made = convertedLine(text, { line, modes, conversion, configuration, carried, morePlaces });
    if (typeof made !== 'string') return made;
    if (made !== text) changes.push(lineChange(line, text, made));
  }
  return changes;
};

/** Modes behind each line of a range in its first pass; undefined for lines that are never run. */
const modesBehind = (
  analysis: Analysis,
  { firstLine, lastLine }: FormatRange,
): ((line: number) => LineModes | undefined) => {
  const ids = new Map<number, number>();
  for (const { segment, firstLine: start } of analysis.passages()) {
    if (segment.pass !== 1 || start > lastLine || start + segment.blockCount <= firstLine) continue;
    for (let i = 0; i < segment.blockCount; i++) ids.set(start + i, segment.modesAfter[i]);
  }
  return (line) => {
    const id = ids.get(line);
    return id === undefined ? undefined : (field) => analysis.modePool.at(id, field);
  };
};

/** Whether converted lines run as they are meant: the same moves at the same feeds, but for what rounding the numbers does. */
import type { Analysis } from '../checks/analysis.ts';
import type { Conversion } from './convertUnitsKind.ts';
import type { LineChange, Refusal } from './formatEdits.ts';
import { executedWith, type ProofSource } from './formatProof.ts';
import { type TracedMove, tracedMoves } from './trace.ts';

/** Moves compared without a pause. */
const BATCH = 2000;
/** A feed may differ by a thousandth, and by a few last places. */
const FEED_SHARE = 0.001;
const FEED_PLACES = 0.003;

/** Executes the program as meant and as written, with pauses, and compares; undefined where they are the same. `isRestAlike`: what follows the lines must run the same way too. */
export function* conversionHarm(
  source: ProofSource,
  conversion: Conversion,
  changes: readonly LineChange[],
  isRestAlike: boolean,
): Generator<undefined, Refusal | undefined> {
  const meant = yield* meantProgram(source, conversion);
  const after = yield* executedWith(source, changes);
  const { firstLine, lastLine } = conversion.range;
  const place = conversion.to === 21 ? 0.001 : 0.0001 * 25.4;
  // Where the unit was switched around the lines, they stand one line lower, and what follows two.
  const shift = conversion.saysUnit ? 0 : 1;
  const lineOf = (line: number): number =>
    line < firstLine ? line : line <= lastLine + shift ? line - shift : line - 2 * shift;
  const options = isRestAlike ? { firstLine: 0 } : { firstLine, lastLine };
  const wanted = tracedMoves(meant, options);
  const moves = tracedMoves(after, options);
  // What a peck is off adds up with each that follows.
  let movesOfLine = 0;
  for (let count = 1, line = -1; ; count++) {
    if (count % BATCH === 0) yield undefined;
    const [one, other] = [wanted.next().value, moves.next().value];
    if (one === undefined && other === undefined) break;
    if (one === undefined || other === undefined)
      return refusalAt(other?.line ?? lineOf(one!.line), conversion, 'would make other moves');
    movesOfLine = other.line === line ? movesOfLine + 1 : 0;
    line = other.line;
    if (lineOf(one.line) !== other.line || !isAlike(one, other, place * (1 + movesOfLine / 2)))
      return refusalAt(Math.min(lineOf(one.line), other.line), conversion, wayOff(one, other));
  }
  return newError(meant, after, lineOf);
}

const refusalAt = (line: number, { range: { lastLine } }: Conversion, what: string): Refusal => ({
  line,
  why:
    line > lastLine
      ? `Line ${line + 1}, behind the selection, ${what}: it hangs on the unit or the place that these lines leave behind. Select it too.`
      : `Line ${line + 1} ${what} once its numbers are rounded. Convert it by hand.`,
});

const wayOff = (one: TracedMove, other: TracedMove): string => {
  const way = Math.hypot(...one.to.map((value, axis) => value - other.to[axis]));
  return way > 0 ? `would end ${Number(way.toFixed(4))} mm beside its place` : 'would run another way';
};

const isNear = (a: number, b: number, most: number): boolean =>
  Math.abs(a - b) <= most || (Number.isNaN(a) && Number.isNaN(b));

/** A word is off by half a last place, a place by two words, a centre by two places. */
const isAlike = (one: TracedMove, other: TracedMove, place: number): boolean =>
  one.kind === other.kind &&
  one.to.every((value, axis) => isNear(value, other.to[axis], 1.01 * place)) &&
  isNear(one.speed, other.speed, 1e-9) &&
  isNear(one.tool, other.tool, 0) &&
  (one.kind !== 'dwell' || isNear(one.seconds, other.seconds, 1e-9)) &&
  (one.kind === 'rapid' || one.kind === 'dwell' || isSameFeed(one, other)) &&
  isSameArc(one, other, place);

/** A feed that is counted by the time of the block changes with its length. */
const isSameFeed = (one: TracedMove, other: TracedMove): boolean =>
  isNear(one.feed, other.feed, FEED_PLACES + FEED_SHARE * Math.abs(one.feed)) ||
  isNear(one.seconds, other.seconds, 1e-6);

const isSameArc = ({ arc: one }: TracedMove, { arc: other }: TracedMove, place: number): boolean => {
  if (one === undefined || other === undefined) return one === other;
  const turn = ((one.sweep - other.sweep) * Math.PI) / 180;
  return (
    one.clockwise === other.clockwise &&
    one.centre.every((value, axis) => isNear(value, other.centre[axis], 2 * place)) &&
    isNear(one.radius, other.radius, 3 * place) &&
    Math.abs(turn * one.radius) <= 6 * place
  );
};

/** The first error that the program did not have as it was meant. */
const newError = (meant: Analysis, after: Analysis, lineOf: (line: number) => number): Refusal | undefined => {
  const errors = (analysis: Analysis) => analysis.findings().findings.filter(({ severity }) => severity === 'error');
  const old = new Set(errors(meant).map(({ rule, line }) => `${lineOf(line)} ${rule}`));
  const found = errors(after).find(({ rule, line }) => !old.has(`${line} ${rule}`));
  if (found === undefined) return undefined;
  return { line: found.line, why: `Line ${found.line + 1} would then be wrong: ${found.message}` };
};

/** The program with changes and the unit switched around the lines that are converted, as it is meant; lines behind move down by two. */
function* meantProgram(source: ProofSource, { range, from, to, saysUnit }: Conversion): Generator<undefined, Analysis> {
  if (saysUnit) return source.analysis;
  const { firstLine, lastLine } = range;
  const at = (line: number, text: string): LineChange => ({ line, column: 0, endColumn: 0, text });
  const end = source.analysis.lineText(lastLine).length;
  const changes =
    firstLine === lastLine
      ? [
          {
            line: firstLine,
            column: 0,
            endColumn: end,
            text: `G${from}\n${source.analysis.lineText(firstLine)}\nG${to}`,
          },
        ]
      : [at(firstLine, `G${from}\n`), { line: lastLine, column: end, endColumn: end, text: `\nG${to}` }];
  return yield* executedWith(source, changes);
}

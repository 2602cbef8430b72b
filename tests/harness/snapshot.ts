/** Everything that an analysis knows of a program, as plain data, to compare two of them. */
import type { Analysis } from '../../server/src/core/checks/analysis.ts';
import { MODE_COUNT, Mode } from '../../server/src/core/machine/modes.ts';
import { EXTRA_WIDTH } from '../../server/src/core/machine/moves.ts';

/** Modes by value: ids of strings differ between analyses, so the strings stand for them. */
const modesInWords = (analysis: Analysis, modes: Float64Array): string =>
  [...modes]
    .map((value, field) => {
      if (field === Mode.setup) return '';
      const isString = field === Mode.toolRemark || field === Mode.operationRemark;
      return isString ? analysis.modePool.string(value) : value === 0 ? 0 : value;
    })
    .join();

/** Moves with their lines, modes by value (ids differ between analyses), extra numbers. */
export const movesOf = (analysis: Analysis): unknown[] => {
  const moves: unknown[] = [];
  const modes = new Float64Array(MODE_COUNT);
  for (const { segment, firstLine } of analysis.passages()) {
    const { moves: table } = segment;
    for (let i = 0; i < table.count; i++) {
      analysis.modePool.read(table.modes[i], modes);
      const extra = table.firstExtra(i);
      const hasExtra = extra < table.extraCount && table.extraMoves[extra] === i;
      moves.push([
        table.lines[i] + firstLine,
        table.kinds[i],
        ...table.ends.subarray(i * 3, i * 3 + 3),
        modesInWords(analysis, modes),
        hasExtra ? [...table.extras.subarray(extra * EXTRA_WIDTH, (extra + 1) * EXTRA_WIDTH)] : [],
        table.otherMoves.flatMap((move, k) => (move === i ? table.others.slice(k * 6, k * 6 + 6) : [])),
      ]);
    }
  }
  return moves;
};

/** Text, lines, moves, findings, and the state at the end. */
export const snapshotOf = (analysis: Analysis): unknown => ({
  text: analysis.text(),
  lineCount: analysis.lineCount,
  moves: movesOf(analysis),
  findings: analysis.findings(),
  stopped: analysis.stopped,
  variables: [...analysis.stateBefore(analysis.lineCount).variables].sort((a, b) =>
    String(a[0]) < String(b[0]) ? -1 : 1,
  ),
});

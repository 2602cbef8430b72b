import { parseThread } from '../../reference/threadName.ts';
import { wordsPlace } from '../support/blockPlace.ts';
import { deepestPlaces } from '../support/deepest.ts';
import { defineRule } from '../support/gradedRule.ts';
import { asLength, unitOf } from '../support/programLengths.ts';
import { stockShape } from '../support/stockShape.ts';
import { type ToolShape, toolNameFirst } from '../support/toolShape.ts';

/** How far through is usual, mm: half a millimetre to one, and as much again for a blank that is thinner than it should be. Common practice, no source. */
const BREAKTHROUGH = 2;
/** The same for a cutter that nobody described: it may have a point, mm. */
const UNKNOWN_TOOL = 5;
const POINTED: readonly string[] = ['drill', 'spot-drill', 'centre-drill', 'countersink', 'chamfer-mill', 'engraver'];

/** A cut far below the bottom of the blank. */
export const throughStockBottom = defineRule({
  code: 'through-stock-bottom',
  severity: 'warning',
  reason: 'What lies under the blank is the vice, a parallel or the table.',
  messages: {
    through:
      '{name} cuts down to Z{level}, {below} below the bottom of the blank at Z{bottom}. Z{enough} gets through; if more is meant, look that nothing is under it.',
  },
  program(facts, report) {
    const stock = stockShape(facts.configuration);
    if (stock === undefined) return;
    for (const { line, modes, level, tool } of deepestPlaces(facts, 'cuts')) {
      const allowed = allowance(tool);
      const below = stock.bottom - level;
      if (!(below > allowed + 1e-6)) continue;
      const unit = unitOf(facts.pool, modes);
      const { start, end } = wordsPlace(facts.lineText(line));
      report('through', line, start, end, {
        name: toolNameFirst(tool),
        level: asLength(level, unit),
        below: asLength(below, unit),
        bottom: asLength(stock.bottom, unit),
        enough: asLength(stock.bottom - allowed, unit),
      });
    }
  },
});

/** How far below the bottom a cutter has to go to be through, mm. */
const allowance = (tool: ToolShape): number => {
  const { kind, diameter, row } = tool;
  if (kind === undefined) return UNKNOWN_TOOL;
  if (kind === 'tap') return BREAKTHROUGH + (row?.leadTurns ?? 3) * tapPitch(tool);
  if (kind === 'reamer') return UNKNOWN_TOOL;
  if (diameter === undefined) return UNKNOWN_TOOL;
  if (kind === 'ball-mill') return BREAKTHROUGH + diameter / 2;
  if (POINTED.includes(kind)) return BREAKTHROUGH + pointLength(tool, diameter);
  return BREAKTHROUGH + Math.max(row?.cornerRadius ?? 0, 0);
};

/** Length of a drill's point, D / (2·tan(θ/2)): geometry of a cone. 118° where it is not given, 90° for what chamfers. */
const pointLength = ({ kind, pointAngle, row }: ToolShape, diameter: number): number => {
  const angle = pointAngle ?? (kind === 'drill' || kind === 'centre-drill' ? 118 : 90);
  return Math.max(0, diameter - (row?.tip ?? 0)) / (2 * Math.tan((angle * Math.PI) / 360));
};

/** Pitch of a tap, mm; where it is not known more than usual ones have. */
const tapPitch = ({ row, diameter }: ToolShape): number =>
  (row?.thread === undefined ? undefined : parseThread(row.thread)?.pitch) ?? Math.max(1, (diameter ?? 10) / 5);

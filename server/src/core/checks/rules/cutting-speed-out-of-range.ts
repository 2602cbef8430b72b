import { Mode } from '../../machine/modes.ts';
import type { ToolKind } from '../../reference/toolRemark.ts';
import { letterIndex } from '../../syntax/block.ts';
import type { RuleContext } from '../rule.ts';
import { defineRule } from '../support/gradedRule.ts';
import { type KnownTool, toolInSpindle } from '../support/toolInSpindle.ts';
import { findCode, findWord } from '../support/words.ts';

/** Cutters that cut on their whole diameter. Balls, points, reamers, taps and boring tools run at other speeds. */
const ON_DIAMETER: ReadonlySet<ToolKind> = new Set(['end-mill', 'face-mill', 'drill']);
const M = letterIndex('M');

/** A cutting speed outside the material's range. v = π·D·S/1000 is the definition of a cutting speed (any machining handbook). */
export const cuttingSpeedOutOfRange = defineRule({
  code: 'cutting-speed-out-of-range',
  severity: 'hint',
  reason: 'Too fast burns the edge, too slow tears it out and costs time.',
  messages: {
    high: 'S{speed} on a diameter of {diameter} {unit} is {actual} m/min, over the {least} to {most} m/min for {cutting} in {material}. S{right} is the most.',
    low: 'S{speed} on a diameter of {diameter} {unit} is {actual} m/min, below the {least} to {most} m/min for {cutting} in {material}. S{right} is the least.',
  },
  codes(context) {
    const { modes, configuration, unit, block } = context;
    const ranges = configuration.material?.cuttingSpeed;
    if (ranges === undefined || modes[Mode.speedMode] !== 97) return;
    const place = placeOf(context);
    const tool = place < 0 || modes[Mode.tool] < 0 ? undefined : toolInSpindle(context);
    const range = tool === undefined ? undefined : rangeOf(tool, ranges);
    if (tool?.diameter === undefined || range === undefined) return;
    const speed = modes[Mode.speed];
    const actual = (Math.PI * tool.diameter * speed) / 1000;
    const [least, most] = range;
    const top = configuration.machine?.topSpeed ?? Number.POSITIVE_INFINITY;
    // S is rounded; and a small cutter may run at the machine's top speed and not reach its range.
    const isHigh = actual > most * 1.01;
    if (!(isHigh || (actual < least * 0.99 && speed < top))) return;
    const right = ((isHigh ? most : least) * 1000) / (Math.PI * tool.diameter);
    context.report(isHigh ? 'high' : 'low', block.starts[place], block.ends[place], {
      speed,
      diameter: tool.diameter / unit,
      unit: unit === 1 ? 'mm' : 'in',
      actual: Math.round(actual),
      least,
      most,
      cutting: tool.cuttingMaterial ?? '',
      material: configuration.material?.name ?? '',
      right: Math.min(top, isHigh ? Math.floor(right) : Math.ceil(right)),
    });
  },
});

const rangeOf = (
  tool: KnownTool,
  ranges: { readonly hss?: readonly [number, number]; readonly carbide?: readonly [number, number] },
): readonly [number, number] | undefined => {
  if (!ON_DIAMETER.has(tool.kind) || tool.cuttingMaterial === undefined) return undefined;
  return ranges[tool.cuttingMaterial];
};

/** S, or M3 or M4 where they stand alone, once the spindle turns; −1 in every other block. */
const placeOf = (context: RuleContext): number => {
  const { block, modes } = context;
  if (modes[Mode.spindle] !== 3 && modes[Mode.spindle] !== 4) return -1;
  if (!(modes[Mode.speed] > 0) || findCode(block, [840, 740]) >= 0) return -1;
  const speed = findWord(block, 'S');
  if (speed >= 0) return speed;
  for (let i = 0; i < block.wordCount; i++) {
    if (block.letters[i] === M && (block.values[i] === 3 || block.values[i] === 4)) return i;
  }
  return -1;
};

import { Mode } from '../../machine/modes.ts';
import { letterIndex, WordFlag } from '../../syntax/block.ts';
import type { Fix, RuleContext } from '../rule.ts';
import { defineRule } from '../support/gradedRule.ts';
import { lengthPlaces, shortNumber } from '../support/numbers.ts';
import { stockShape, topOfWork } from '../support/stockShape.ts';
import { toolInSpindle } from '../support/toolShape.ts';
import { findCode, lineEndOf } from '../support/words.ts';

const Z = letterIndex('Z');
const AXES_IN_PLANE = ['X', 'Y'].map(letterIndex);
/** Sideways by less than this is no positioning, mm. */
const SIDEWAYS = 0.01;

/** One rapid that goes down and sideways and ends in the work. */
export const rapidPlungeDiagonal = defineRule({
  code: 'rapid-plunge-diagonal',
  severity: 'warning',
  reason: 'Rapids rarely run straight, so the tool may be down long before it is there.',
  messages: {
    diagonal:
      'One rapid goes {way} sideways and down to Z{level}, below the top of the work at Z{top}. Go there first, then down in a block of its own.',
  },
  rapid(context) {
    const { block, modes, position, target, unit, configuration } = context;
    const top = topOfWork(configuration, modes[Mode.offset]);
    const way = Math.hypot(target[0] - position[0], target[1] - position[1]);
    // From above the top: where the zero is the machine's upper end, nothing ever is.
    if (!(position[2] > top + 1e-6 && target[2] < top - 1e-6 && way > SIDEWAYS) || isBesideStock(context)) return;
    const places = lengthPlaces(unit);
    context.report(
      'diagonal',
      block.starts[0],
      block.ends[block.wordCount - 1],
      {
        way: way / unit,
        level: shortNumber(target[2] / unit, places),
        top: shortNumber(top / unit, places),
      },
      splitFix(context),
    );
  },
});

/** True where the blank is given and neither way nor corner of it comes near. */
const isBesideStock = (context: RuleContext): boolean => {
  const { configuration, modes, position, target } = context;
  const stock = stockShape(configuration);
  const diameter = toolInSpindle(context).diameter;
  if (stock === undefined || stock.offset !== modes[Mode.offset] || diameter === undefined) return false;
  const corners: readonly (readonly [number, number])[] = [
    [position[0], target[1]],
    [target[0], position[1]],
    [target[0], target[1]],
  ];
  return corners.every(([x, y]) => {
    const { from, to } = stock.share(position[0], position[1], x - position[0], y - position[1], diameter / 2);
    const end = stock.share(x, y, target[0] - x, target[1] - y, diameter / 2);
    return from > to && end.from > end.to;
  });
};

/** The Z word in a line of its own behind the block. */
const splitFix = (context: RuleContext): readonly Fix[] => {
  const { block, modes } = context;
  const plain = block.has(Z) && AXES_IN_PLANE.some((letter) => block.has(letter)) && block.remarks.length === 0;
  if (!plain || block.flow !== undefined || block.assigns || modes[Mode.polar] === 1) return [];
  const word = block.slot[Z];
  if (findCode(block, [530]) >= 0 || modes[Mode.rotation] === 1) return [];
  if ((block.flags[word] & WordFlag.bad) !== 0) return [];
  const start = block.source[block.starts[word] - 1] === ' ' ? block.starts[word] - 1 : block.starts[word];
  return [
    context.replace(
      'Go down in a block of its own',
      false,
      { start, end: block.ends[word], text: '' },
      { start: block.end, end: block.end, text: `${lineEndOf(block)}${block.wordText(word)}` },
    ),
  ];
};

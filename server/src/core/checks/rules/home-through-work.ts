import { Mode } from '../../machine/modes.ts';
import { letterIndex } from '../../syntax/block.ts';
import type { Fix, RuleContext } from '../rule.ts';
import { defineRule } from '../support/gradedRule.ts';
import { lengthPlaces, shortNumber } from '../support/numbers.ts';
import { topOfWork } from '../support/stockShape.ts';
import { findCode, lineEndOf } from '../support/words.ts';

const Z = letterIndex('Z');
const [G, M, N, S] = ['G', 'M', 'N', 'S'].map(letterIndex);
/** Codes that may stand beside G28 in a block that the repair changes. */
const HARMLESS = [0, 280, 300, 400, 490, 800, 900, 910];

/** G28 or G30 whose way home leads through a point in the work. */
export const homeThroughWork = defineRule({
  code: 'home-through-work',
  severity: 'error',
  severities: { perhaps: 'warning' },
  reason: 'On its way home the tool first goes to the point that the block names, at rapid.',
  messages: {
    dives:
      'With G90 on, {code} {word} first goes down at rapid to Z{level}, into the work, and only then home. Write G91 G28 Z0 and G90 behind it.',
    perhaps:
      'With G90 on, {code} {word} first goes at rapid to Z{level} and only then home; without a length offset that is in the work unless the zero lies at the top of the machine. Write G91 G28 Z0 and G90 behind it.',
  },
  home(context) {
    const { block, modes, position, target, unit, configuration } = context;
    if (!block.has(Z) || modes[Mode.distance] === 91) return;
    const level = target[2];
    if (!(level <= topOfWork(configuration, modes[Mode.offset]) + 1e-9) || level >= position[2] - 1e-6) return;
    const hasLength = modes[Mode.lengthCompensation] !== 49;
    if (!hasLength && level >= homeLevel(context) - 1e-6) return;
    const word = block.slot[Z];
    const code = findCode(block, [280, 300]);
    const data = {
      code: code < 0 ? 'G28' : block.wordText(code),
      word: block.wordText(word),
      level: shortNumber(level / unit, lengthPlaces(unit)),
    };
    const isSure = hasLength || (position[2] > level && modes[Mode.lengthCarried] === 0);
    context.report(isSure ? 'dives' : 'perhaps', block.starts[word], block.ends[word], data, repair(context));
  },
});

/** Work coordinate of the machine's reference point along Z, NaN unknown. */
const homeLevel = ({ configuration, modes }: RuleContext): number =>
  (configuration.machine?.axes.Z?.reference ?? Number.NaN) - modes[Mode.zero + 2];

/** G91 in this block with Z0, and G90 in a line of its own behind it. Only where the block does nothing else. */
const repair = (context: RuleContext): readonly Fix[] => {
  const { block, before } = context;
  if (before[Mode.distance] === 91 && findCode(block, [900]) < 0) return [];
  for (let i = 0; i < block.wordCount; i++) {
    const letter = block.letters[i];
    const known = letter === G ? HARMLESS.includes(Math.round(block.values[i] * 10)) : letter === M || letter === S;
    if (!known && letter !== Z && letter !== N) return [];
  }
  if (block.remarks.length > 0 || block.flow !== undefined) return [];
  const code = findCode(block, [280, 300]);
  if (code < 0) return [];
  const absolute = findCode(block, [900]);
  const word = block.slot[Z];
  const changes = [
    absolute < 0
      ? { start: block.starts[code], end: block.starts[code], text: 'G91 ' }
      : { start: block.starts[absolute], end: block.ends[absolute], text: 'G91' },
    { start: block.starts[word], end: block.ends[word], text: 'Z0.' },
    { start: block.end, end: block.end, text: `${lineEndOf(block)}G90` },
  ];
  return [context.replace('Go straight home from here, then back to G90', false, ...changes)];
};

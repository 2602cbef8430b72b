import { Given, LeftOver, Mode } from '../../machine/modes.ts';
import type { RuleContext } from '../rule.ts';
import { defineRule } from '../support/gradedRule.ts';
import { lineBefore, wordWith } from '../support/lineFixes.ts';

const AXES = 'XYZABCUVW';

/** A shift, scaling, rotation or polar programming that is still on at a tool change or at the end. */
export const shiftLeftOn = defineRule({
  code: 'shift-left-on',
  severity: 'warning',
  silentInSubprograms: true,
  reason: 'The next tool, or the next program, works in a moved, turned or scaled place.',
  messages: {
    'tool-change':
      '{codes} still on at this tool change. Write {cancel} before it, and switch it on again behind if the next tool is to run so too.',
    end: '{codes} still on at the program’s end. Write {cancel} before it.',
  },
  codes(context) {
    const { modes } = context;
    const told = (modes[Mode.leftOver] & LeftOver.shiftTold) !== 0;
    const change = wordWith(context.block, 'M', [6]);
    const end = isResetAtEnd(context) ? -1 : wordWith(context.block, 'M', [2, 30]);
    if (!told && change < 0 && end < 0) return;
    const shifts = shiftsOn(context);
    if (shifts.length === 0) context.settle(LeftOver.shiftTold);
    else if (end >= 0) report(context, 'end', end, shifts);
    else if (change >= 0 && !told) {
      report(context, 'tool-change', change, shifts);
      context.noteLeftOver(LeftOver.shiftTold);
    }
  },
});

/** A shift that is on: its code, the words that end it, and whether these stand in a line of their own. */
interface Shift {
  readonly code: string;
  readonly cancel: string;
  readonly alone: boolean;
}

/** M2 and M30 take G92 and the turned and scaled places back after the report (NIST IR 6556). */
const isResetAtEnd = (context: RuleContext): boolean => context.profile.order === 'report';

const shiftsOn = ({ modes, profile }: RuleContext): Shift[] => {
  const shifts: Shift[] = [];
  const add = (code: string, cancel: string, alone: boolean): number => shifts.push({ code, cancel, alone });
  if (modes[Mode.polar] === 1) add('G16', 'G15', false);
  if (modes[Mode.rotation] === 1) add('G68', 'G69', false);
  if (modes[Mode.scaling] === 1) {
    const isMirror = profile.mirrorCodes && [0, 1, 2].every((axis) => Math.abs(modes[Mode.scaleX + axis]) === 1);
    if (isMirror) add('The mirror', 'G50.1', false);
    else add('G51', 'G50', false);
  }
  const local = axesShifted(modes, Mode.localShift);
  if (local.length > 0) add('G52', `G52 ${local.map((axis) => `${axis}0`).join(' ')}`, true);
  // Without a work offset G92 is how the program finds its zero.
  const usesOffset = (modes[Mode.given] & Given.offset) !== 0;
  if (usesOffset && axesShifted(modes, Mode.presetShift).length > 0) add('G92', 'G92.1', true);
  return shifts;
};

const axesShifted = (modes: Float64Array, field: number): string[] =>
  [...AXES].filter((_, axis) => modes[field + axis] !== 0);

const report = (context: RuleContext, message: string, word: number, shifts: readonly Shift[]): void => {
  const { block } = context;
  const inOne = shifts.filter(({ alone }) => !alone).map(({ cancel }) => cancel);
  const lines = [
    ...(inOne.length > 0 ? [inOne.join(' ')] : []),
    ...shifts.filter(({ alone }) => alone).map(({ cancel }) => cancel),
  ];
  const cancel = lines.join(', ');
  const fix = lineBefore(block, `Write ${cancel} before it`, lines.join('\n'));
  const codes = `${shifts.map(({ code }) => code).join(' and ')} ${shifts.length === 1 ? 'is' : 'are'}`;
  context.report(message, block.starts[word], block.ends[word], { codes, cancel }, [fix]);
};

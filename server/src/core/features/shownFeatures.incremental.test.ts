/** Outline, lenses and hints after random edits are those of the text freshly run. */
import { expect, test } from 'vitest';
import { seeded } from '../../../../tests/bench/program.ts';
import { editAtRandom, pick, pieces } from '../../../../tests/harness/randomEdits.ts';
import { Analysis } from '../checks/analysis.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { HINT_KINDS, hintSteps } from './inlayHints.ts';
import { lensSteps } from './lenses.ts';
import { type OutlineItem, outlineSteps } from './outline.ts';

/** Programs of mixed pieces may go on for ever. */
const CONFIGURATION: Configuration = {
  ...DEFAULT_CONFIGURATION,
  limits: { ...DEFAULT_CONFIGURATION.limits, steps: 3000, moves: 2500 },
};

const STRAIGHT = [
  'G1 X10. Y5. F200\n',
  'G0 Z5.\n',
  'Z-1.\n',
  'G0 X90.\n',
  'X#1 Y#2\n',
  'G2 X20. Y5. I5. J0.\n',
  'G3 Z-2. I-4. J0.\n',
  'G91\n',
  'G90\n',
  '#1=#1+1\n',
  '#3=#5041\n',
  'G81 X#1 Y1. Z-5. R2. F100\n',
  'G80\n',
  'T2 M6 (TAP M6X1)\n',
  'T1 M6 (END MILL D10)\n',
  'S500 M3\n',
  'G1 G41 D1 X3. F100\n',
  'G40 X0.\n',
  '(A REMARK)\n',
  '\n',
];
const FLOW = [
  ...STRAIGHT,
  'WHILE [#1 LT 4] DO1\n',
  'END1\n',
  'IF [#1 GT 3] GOTO 20\n',
  'N20\n',
  'M98 P100 L2\n',
  'O100 (SUB)\n',
  'M99\n',
  'M30\n',
];

const all = <T>(steps: Generator<undefined, T>): T => {
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
};

const shown = (analysis: Analysis) => {
  const last = analysis.lineCount - 1;
  return {
    outline: all(outlineSteps(analysis, CONFIGURATION)),
    lenses: all(lensSteps(analysis, CONFIGURATION)),
    hints: all(hintSteps(analysis, CONFIGURATION, 0, last, new Set(HINT_KINDS))),
  };
};

const isNested = (items: readonly OutlineItem[], first: number, last: number): boolean => {
  let from = first;
  return items.every(({ line, endLine, children }) => {
    const isInside = line >= from && endLine >= line && endLine <= last && isNested(children, line, endLine);
    from = endLine;
    return isInside;
  });
};

test.each([
  ['straight on', STRAIGHT, 12],
  ['with loops and calls', FLOW, 20],
] as const)('programs %s', (_name, list, programs) => {
  const random = seeded(3);
  for (let i = 0; i < programs; i++) {
    let text = `G21 G90\nT1 M6 (END MILL D10)\nG0 X0. Y0. Z5.\n${pieces(random, list, pick(random, [10, 30, 60, 600]))}`;
    const analysis = new Analysis(text, CONFIGURATION);
    analysis.run();
    for (let edit = 0; edit < 3; edit++) {
      // What is asked between the edits must not stick.
      shown(analysis);
      text = editAtRandom(random, analysis, text, list);
      analysis.run();
      const fresh = new Analysis(text, CONFIGURATION);
      fresh.run();
      const now = shown(analysis);
      expect(now, `program ${i} edit ${edit}\n${text.slice(0, 2000)}`).toEqual(shown(fresh));
      expect(isNested(now.outline, 0, analysis.lineCount - 1), `program ${i} edit ${edit}`).toBe(true);
    }
  }
});

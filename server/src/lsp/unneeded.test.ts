/** What is shown between two searches: it goes along with its lines, and is what a fresh search finds once that has been. */
import { expect, test } from 'vitest';
import { seeded } from '../../../tests/protocol/programs.ts';
import { allOf } from '../core/features/referencesText.ts';
import { unneeded } from '../core/features/unneeded.ts';
import { DEFAULT_CONFIGURATION } from '../core/machine/configuration.ts';
import { Program } from './programs.ts';
import { UnneededReports } from './unneeded.ts';

const HEAD = 'G17 G21 G90 G54\nT1 M6\nG90 G0 X0. Y0.\n';
const LINES = [
  'G90 X5.',
  'X6. (A)',
  '#1=4.',
  '#2=#1',
  'G91 X1.',
  'T2 M6',
  '',
  'M1',
  'G17',
  'GOTO 5',
  'N5 X1.',
  'S500 M3',
];

/** Brings a program up to date as a finished run does. */
function run(program: Program): void {
  program.analysis.run();
  program.isDirty = false;
  program.runCount++;
}

test('random edits: every hint stands where its words do, and after a search all is as if opened afresh', async () => {
  const random = seeded(3);
  const pick = (most: number): number => Math.floor(random() * most);
  const reports = new UnneededReports({
    pause: () => Promise.resolve(),
    isOn: () => Promise.resolve(true),
    changed: () => undefined,
  });
  const body = Array.from({ length: 1200 }, () => LINES[pick(LINES.length)]!);
  const program = new Program('untitled:a.nc', 1, `${HEAD}${body.join('\n')}\nM30\n`);
  let followed = 0;
  for (let round = 0; round < 25; round++) {
    run(program);
    await reports.settled(program);
    const { analysis } = program;
    const texts = (at: Program) =>
      reports
        .of(at)
        .map(({ range, message }) => `${analysis.lineText(range.start.line).slice(range.start.character)} ${message}`);
    const before = texts(program);
    const fresh = new Program('untitled:b.nc', 1, analysis.text());
    run(fresh);
    expect(reports.of(program).map(({ range }) => range.start.line)).toEqual(
      allOf(unneeded(fresh.analysis, DEFAULT_CONFIGURATION)).map(({ line }) => line),
    );
    const line = 3 + pick(analysis.lineCount - 5);
    const last = Math.min(analysis.lineCount - 3, line + pick(3));
    const text = Array.from({ length: pick(3) }, () => `${LINES[pick(LINES.length)]}\n`).join('');
    program.change([{ range: { start: { line, character: 0 }, end: { line: last, character: 0 } }, text }]);
    run(program);
    const after = texts(program);
    followed += after.length;
    // A hint of several lines is told by its first.
    for (const hint of after) expect(before).toContain(hint);
    expect(after.length).toBeGreaterThanOrEqual(before.length - 4);
  }
  expect(followed).toBeGreaterThan(1000);
});

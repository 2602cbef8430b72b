import { expect, it } from 'vitest';
import { applyEdits } from '../../../../../tests/harness/applyFix.ts';
import { arcsOf, FAULTS, faultIn } from '../../../../../tests/outside/arcFaults.ts';
import { makeProgram, oneOf, randomFrom } from '../../../../../tests/outside/arcPrograms.ts';
import { Analysis } from '../analysis.ts';

/** The repairs of an arc behind X10. Y0 Z0: the names without their results, and the blocks. */
const repairs = (block: string, start = 'G17 G21 G90 G54\nG0 X0 Y0 Z0\nG1 X10. F100'): [string, string][] => {
  const program = `${start}\n${block}\nG1 Y20.\nM30`;
  const analysis = new Analysis(program);
  analysis.run();
  const line = start.split('\n').length;
  const finding = analysis.findings().findings.find((one) => one.line === line && one.rule.startsWith('arc-'));
  return (finding?.fixes ?? []).map(({ title, edits }) => [
    title.replace(/ \(.*\)$/, ''),
    applyEdits(program, edits).split('\n')[line],
  ]);
};

it('exchanges the numbers of two words, not their places', () => {
  expect(repairs('G3 X0. Y10. I10. J0.')).toContainEqual(['Write I0. J10.', 'G3 X0. Y10. I0. J10.']);
  expect(repairs('g3x0.y10.i10.j0.')).toContainEqual(['Write i0. j10.', 'g3x0.y10.i0.j10.']);
  expect(repairs('G3 X0. Y10. I[5.+5.] J0.')).toContainEqual(['Write I0. J[5.+5.]', 'G3 X0. Y10. I0. J[5.+5.]']);
});

it('puts a word of another letter where it belongs', () => {
  const start = 'G17 G21 G90 G54\nG0 X0 Y0 Z0\nG1 Y-10. F100';
  expect(repairs('G3 X10. Y-20. J0 K10.', start)).toContainEqual(['Write I10.', 'G3 X10. Y-20. I10. J0']);
  expect(repairs('G3 X10. Y-20. J10.', start)).toContainEqual(['Write I10.', 'G3 X10. Y-20. I10.']);
});

it('puts a word that is missing in front of the one it belongs before', () => {
  const start = 'G17 G21 G90 G54\nG0 X0 Y0 Z0\nG1 X-6. F100';
  for (const [name, block] of repairs('G3 X-8. Y4. J6. F100.', start)) {
    expect(name).not.toMatch(/J.*I/);
    expect(block).not.toMatch(/J.*I/);
  }
  expect(repairs('G3 X-8. Y4. J6. F100.', start).some(([, block]) => / I\S+ J\S+ F100\.$/.test(block))).toBe(true);
});

it('leaves a block alone that is written in another order', () => {
  expect(repairs('G3 Y10. X0. J0. I10.')).toContainEqual(['Write I0. J10.', 'G3 Y10. X0. I0. J10.']);
  expect(repairs('G3 Y10. X20. J-10. I0.')[0]).toEqual(['Write J10.', 'G3 Y10. X20. J10. I0.']);
});

it('keeps the order of words in the repairs of 400 faults', { timeout: 60_000 }, () => {
  const random = randomFrom(11);
  let offers = 0;
  let moved = 0;
  for (let made = 0; made < 400; ) {
    const right = makeProgram(random);
    const arcs = arcsOf(right);
    const fault = arcs.length === 0 ? undefined : faultIn(right, oneOf(random, arcs), oneOf(random, FAULTS), random);
    if (fault === undefined) continue;
    made++;
    const analysis = new Analysis(fault.program);
    analysis.run();
    const before = fault.program.split('\n');
    for (const { line, fixes } of analysis.findings().findings.filter(({ rule }) => rule.startsWith('arc-'))) {
      for (const { title, edits } of fixes) {
        const after = applyEdits(fault.program, edits).split('\n');
        for (const group of [/[XYZ](?=[-.\d])/gi, /[IJK](?=[-.\d])/gi]) {
          if (!isSorted(before[line], group)) continue;
          expect(isSorted(after[line], group), `${before[line]}\n${title}\n${after[line]}`).toBe(true);
          expect(isSorted(title.slice(0, title.indexOf('(')), group), title).toBe(true);
        }
        offers++;
        moved += Number(edits.filter((edit) => edit.line === line).length > 1);
      }
    }
  }
  expect(offers).toBeGreaterThan(1000);
  expect(moved).toBeGreaterThan(50);
});

const isSorted = (text: string, letters: RegExp): boolean => {
  const found = (text.replace(/\(.*?\)/g, '').match(letters) ?? []).join('');
  return [...found].sort().join('') === found;
};

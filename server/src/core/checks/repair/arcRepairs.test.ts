import { describe, expect, it } from 'vitest';
import { applyEdits } from '../../../../../tests/harness/applyFix.ts';
import { editAtRandom, pieces } from '../../../../../tests/harness/randomEdits.ts';
import { randomFrom } from '../../../../../tests/outside/arcPrograms.ts';
import { Analysis } from '../analysis.ts';
import { repairsAlike } from './alike.ts';

const analysed = (program: string): Analysis => {
  const analysis = new Analysis(program);
  analysis.run();
  return analysis;
};

/** The block of a line after each repair of its first finding of arcs. */
const repaired = (program: string, line: number): string[] => {
  const analysis = analysed(program);
  const finding = analysis.findings().findings.find((one) => one.line === line && one.rule.startsWith('arc-'));
  return (finding?.fixes ?? []).map(({ edits }) => applyEdits(program, edits).split('\n')[line]);
};

const KNOWN = 'G17 G21 G90 G54\nG0 X0 Y0 Z0\nG1 X10. F100\n';

describe('the search for repairs of an arc', () => {
  it('runs only when somebody looks at the repairs', () => {
    const analysis = analysed(`${KNOWN}G3 X20. Y10. K10.\nG1 Y20.\nM30`);
    const { findings } = analysis.findings();
    JSON.stringify(findings);
    expect({ ...findings[0] }).not.toHaveProperty('fixes');
    expect(analysis.arcRepairs?.blocks).toBe(0);
    expect(findings.find(({ rule }) => rule === 'arc-centre-off-plane')?.fixes.length).toBeGreaterThan(0);
    const { blocks } = analysis.arcRepairs!;
    expect(blocks).toBeGreaterThan(0);
    for (const { fixes } of analysis.findings().findings) expect(fixes).toBeDefined();
    expect(analysis.arcRepairs?.blocks).toBe(blocks);
  });

  it('prefers what joins both neighbours', () => {
    expect(repaired(`${KNOWN}G3 X20. Y10. R4.\nG1 Y20.\nM30`, 3)[0]).toBe('G3 X20. Y10. R10.');
    expect(repaired(`${KNOWN}G3 X20. Y10.\nG1 Y20.\nM30`, 3)[0]).toBe('G3 X20. Y10. R10.');
    expect(repaired(`${KNOWN}G3 X20. Y10. I0. J0.\nG1 Y20.\nM30`, 3)[0]).toBe('G3 X20. Y10. I0. J10.');
    expect(repaired(`${KNOWN}G3 X20. Y12. J10.\nG1 Y20.\nM30`, 3)[0]).toBe('G3 X20. Y10. J10.');
    expect(repaired(`${KNOWN}G3 X20. Y10. J01.\nG1 Y20.\nM30`, 3)[0]).toBe('G3 X20. Y10. J10.');
    expect(repaired(`${KNOWN}G3 X20. Y10. I10. J10.\nG1 Y20.\nM30`, 3)).toContain('G3 X20. Y10. I0. J10.');
  });

  it('puts a full circle inside a contour behind what joins as well, and calls it so', () => {
    const titles = (program: string, line: number): string[] => {
      const { findings } = analysed(program).findings();
      return findings.find((one) => one.line === line && one.rule.startsWith('arc-'))!.fixes.map(({ title }) => title);
    };
    // Turning the sign of X closes the arc in as few characters as turning that of I does right.
    const closing = titles('G17 G21 G90 G54\nG0 X-10. Y-5. Z0\nG1 Y0 F100\nG2 X10. Y0 I-10. J0\nG1 X20. Y20.\nM30', 3);
    expect(closing[0]).toBe('Write I10. (centre X0. Y0., radius 10., 180° clockwise)');
    expect(closing.map((title) => title.includes('full circle'))).toEqual([false, false, true]);
    // Under G19 X leads across the plane, and what closes in the plane is no full circle that is meant.
    const across = titles('G19 G21 G90 G54\nG0 X0 Y0 Z0\nG1 Z-3. F100\nG2 X-6. Y0 I-3. J0\nG0 Z10.\nM30', 3);
    expect(across.map((title) => title.includes('full circle'))).toEqual([false, false, true]);
    // Where it is written, only its centre is wrong.
    const meant = titles('G17 G21 G90 G54\nG0 X10. Y0 Z0\nG1 Z-1. F100\nG3 X10. Y0 K10.\nG0 Z5.\nM30', 3);
    expect(meant[0]).toMatch(/full circle counter-clockwise\)$/);
  });

  it('counts the centre from the other place', () => {
    const away = KNOWN.replace('X0 Y0', 'X5. Y7.').replace('X10.', 'X15.');
    expect(repaired(`${away}G3 X25. Y17. I15. J17.\nG1 Y20.\nM30`, 3)[0]).toBe('G3 X25. Y17. I0. J10.');
    const absolute = away.replace('G54', 'G54 G90.1');
    expect(repaired(`${absolute}G3 X25. Y17. I0. J10.\nG1 Y20.\nM30`, 3)[0]).toBe('G3 X25. Y17. I15. J17.');
  });

  it('changes the plane where it was selected, and what comes after it is right too', () => {
    const program =
      'G18 G21 G90 G54\nG0 X0 Y0 Z0\nG1 X10. F100\nG3 X20. Y10. I0. J10.\nG1 Y20.\nG3 X10. Y30. I-10. J0.\nM30';
    const [finding] = analysed(program)
      .findings()
      .findings.filter(({ rule }) => rule.startsWith('arc-'));
    expect(finding.fixes[0].title).toMatch(/^Write G17 in line 1 \(centre X10\. Y10\./);
    expect(applyEdits(program, finding.fixes[0].edits)).toBe(program.replace('G18', 'G17'));
  });

  it('counts from where the program does: G91, G52, inch', () => {
    const incremental = `${KNOWN}G91\nG3 X10. Y12. J10.\nG1 Y10.\nG90\nM30`;
    expect(repaired(incremental, 4)[0]).toBe('G3 X10. Y10. J10.');
    const shifted = `G52 X100. Y50.\n${KNOWN}G3 X20. Y12. J10.\nG1 Y20.\nG52 X0 Y0\nM30`;
    const [finding] = analysed(shifted)
      .findings()
      .findings.filter(({ rule }) => rule.startsWith('arc-'));
    expect(finding.fixes[0].title).toBe('Write Y10. (centre X10. Y10., radius 10., 90° counter-clockwise)');
    const inch = 'G17 G20 G90 G54\nG0 X0 Y0 Z0\nG1 X1. F10.\nG3 X2. Y1. R.4\nG1 Y2.\nM30';
    expect(repaired(inch, 3)[0]).toBe('G3 X2. Y1. R1.');
  });

  it('leaves computed words alone', () => {
    const program = 'G17 G21 G90 G54\n#1=8.\nG0 X20. Y0 Z0\nG3 X12. Y8. I#1 J0 F100.\nM30';
    for (const block of repaired(program, 3)) expect(block).not.toMatch(/I-?#-|I--/);
    expect(repaired(program, 3)).not.toContain('G3 X12. Y8. I-#1 J0 F100.');
  });

  it('tries in a scaled or turned program only what needs no reckoning', () => {
    const scaled = 'G17 G21 G90 G54\nG51 X0 Y0 P2.\nG0 X20. Y0 Z0\nG3 X12. Y8. I8. J0 F100.\nG50\nM30';
    expect(repaired(scaled, 3)[0]).toBe('G3 X12. Y8. I-8. J0 F100.');
    const turned = 'G17 G21 G90 G54\nG68 X0 Y0 R30.\nG0 X20. Y0 Z0\nG3 X12. Y8. I8. J0 F100.\nG69\nM30';
    expect(repaired(turned, 3)[0]).toBe('G3 X12. Y8. I-8. J0 F100.');
  });

  it('offers nothing where only a later pass of a loop is wrong', () => {
    const program =
      'G17 G21 G90 G54\n#1=5.\nG0 X0 Y0 Z0\nWHILE [#1 LT 9] DO1\nG1 X0 Y0 F100\nG3 X10. Y0 I#1 J0\n#1=#1+2\nEND1\nM30';
    const finding = analysed(program)
      .findings()
      .findings.find(({ rule }) => rule === 'arc-radius-mismatch');
    expect(finding?.line).toBe(5);
    expect(finding?.fixes).toEqual([]);
  });

  it('finds the same after an edit as in the same text opened anew', () => {
    const analysis = analysed(`${KNOWN}G3 X20. Y10. K10.\nG1 Y20.\nM30`);
    analysis.edit(3, 13, 3, 17, 'J-10.');
    expect(analysis.arcRepairs).toBeUndefined();
    analysis.run();
    const fresh = analysed(analysis.text());
    const fixesOf = (one: Analysis) => one.findings().findings.map(({ fixes }) => fixes);
    expect(fixesOf(analysis)).toEqual(fixesOf(fresh));
    expect(fixesOf(analysis).flat().length).toBeGreaterThan(0);
  });

  it.each([1, 2, 3])('is total, and the same after random edits, seed %i', (seed) => {
    const random = randomFrom(seed);
    let text = pieces(random, PIECES, 40);
    const analysis = analysed(text);
    let found = 0;
    for (let edit = 0; edit < 40; edit++) {
      text = editAtRandom(random, analysis, text, PIECES);
      analysis.run();
      const [own, fresh] = [analysis, analysed(text)].map((one) => one.findings().findings.map(({ fixes }) => fixes));
      expect(own, `edit ${edit}\n${text}`).toEqual(fresh);
      found += own.flat().length;
    }
    expect(found).toBeGreaterThan(100);
  });
});

/** Lines that make wrong arcs of many kinds, in all planes, loops and compensation. */
const PIECES = [
  'G17 G21 G90 G91.1\n',
  'G18\n',
  'g19\n',
  'G90.1\n',
  'G0 X0 Y0 Z0\n',
  'G1 X10. Y5. F100\n',
  'G3 X20. Y10. K10.\n',
  'G2 X12.5 Y8. R2.\n',
  'G2 Z5. X8. I-8. K0 J3.\n',
  'g2 x1 y2 i3 j4\n',
  'G3 X0 Y0 R5.\n',
  'X7. I2. J-1.\n',
  'G2X1.5R#1\n',
  '#1=5\n',
  'G41 D1\n',
  'G40\n',
  'G91\n',
  'G52 X5.\n',
  'G68 X0 Y0 R20.\n',
  'G69\n',
  'WHILE [#2 LT 3] DO1\n',
  '#2=#2+1\n',
  'END1\n',
  '(REMARK)\n',
  'M30\n',
];

describe('one repair for all', () => {
  const wrong = (words: string) =>
    `${KNOWN}G3 X20. Y10. ${words} K10.\nG1 Y20.\nG3 X10. Y30. I-10. K0.\nG1 X0.\nG3 X-10. Y20. ${words} K-10.\nM30`;

  it('is offered where several are wrong in the same way', () => {
    const analysis = analysed(wrong('I0.'));
    const all = analysis.findings().findings;
    const [first] = all.filter(({ rule }) => rule === 'arc-centre-off-plane');
    const [alike] = repairsAlike(analysis.arcRepairs!, first, all);
    expect(alike.title).toBe('Repair all 2 alike: write J for K');
    const repairedText = applyEdits(analysis.text(), alike.edits);
    expect(
      analysed(repairedText)
        .findings()
        .findings.filter(({ rule }) => rule.startsWith('arc-')),
    ).toEqual([]);
  });

  it('turns the signs of centre words whatever their letters', () => {
    // The three corners of one slip: the signs of I, J and I are turned.
    const corners = (one: string, two: string, three: string): string =>
      `${KNOWN.replace('X10.', 'X32.')}G3 X40. Y8. I0. J8.\nG1 Y32.\nG3 X32. Y40. ${one}\nG1 X8.\nG3 X0. Y32. ${two}\nG1 Y8.\nG3 X8. Y0. ${three}\nM30`;
    const right = corners('I-8. J0.', 'I0. J-8.', 'I8. J0.');
    const analysis = analysed(corners('I8. J0.', 'I0. J8.', 'I-8. J0.'));
    const all = analysis.findings().findings;
    const wrong = all.filter(({ rule }) => rule === 'arc-radius-mismatch');
    expect(wrong).toHaveLength(3);
    for (const finding of wrong) {
      const [alike] = repairsAlike(analysis.arcRepairs!, finding, all);
      expect(alike.title).toBe('Repair all 3 alike: turn the sign of the centre word');
      expect(applyEdits(analysis.text(), alike.edits)).toBe(right);
    }
  });

  it('names the letter where it is the same in all, and leaves arcs alone that something else repairs better', () => {
    const text = `${KNOWN.replace('X10.', 'X32.')}G3 X40. Y8. I0. J-8.\nG1 Y32.\nG3 X32. Y40. I0. J-8.\nG1 X8.\nG3 X0. Y32. I0. J8.\nG1 Y8.\nG3 X8. Y0. I8. J0.\nG1 X32.\nG3 X40. Y8. J-8.\nM30`;
    const analysis = analysed(text);
    const all = analysis.findings().findings;
    const titles = all.flatMap((finding) => repairsAlike(analysis.arcRepairs!, finding, all).map(({ title }) => title));
    const turning = titles.filter((title) => title.includes('turn the sign'));
    expect(turning).toEqual(Array(3).fill('Repair all 3 alike: turn the sign of J'));
  });

  it('is not offered for one arc, nor for other findings', () => {
    const analysis = analysed(`${KNOWN}G3 X20. Y10. K10.\nG1 Y20.\nM30`);
    const all = analysis.findings().findings;
    for (const finding of all) expect(repairsAlike(analysis.arcRepairs!, finding, all)).toEqual([]);
  });

  it('moves no end points', () => {
    const program = `${KNOWN}G3 X-20. Y10. J10.\nG1 X20. Y20.\nG3 X-30. Y30. J10.\nG1 Y40.\nM30`;
    const analysis = analysed(program);
    const all = analysis.findings().findings;
    for (const finding of all) {
      for (const { edits } of repairsAlike(analysis.arcRepairs!, finding, all)) {
        for (const { text } of edits) expect(text).not.toMatch(/[XYZ]/);
      }
    }
  });
});

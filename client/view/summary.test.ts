import { describe, expect, it } from 'vitest';
import type { PathSummary } from '../../server/src/core/geometry/pathSummary.ts';
import { durationText, type Summarised, summaryTexts } from './summary.ts';

const section = (number: number, description: string, firstLine: number, seconds: number) => ({
  tool: { number, description },
  firstLine,
  start: { piece: 1, vertex: 0 },
  startSeconds: 0,
  seconds,
  cutLength: 1,
  rapidLength: 1,
});
const summary: PathSummary = {
  seconds: 75.4,
  cutSeconds: 70,
  rapidSeconds: 3.44,
  waitSeconds: 2,
  cutLength: 100,
  rapidLength: 50,
  sections: [section(1, 'END MILL D10', 2, 60), section(-1, '', 8, 15.4)],
  moreSections: 0,
  offsets: ['G54'],
  stops: [],
  untimed: 0,
};
const plate: Summarised = {
  name: 'plate.nc',
  inch: false,
  cutBounds: [0, -5, -2, 40, 25, 0],
  summary,
  findings: [],
  unplaced: 0,
};

describe('the path in words', () => {
  it('says reach, time, tools and that nothing was found', () => {
    expect(summaryTexts(plate)).toEqual([
      'Path of plate.nc, in millimetres.',
      'Cut: X 0.000 to 40.000 = 40.000, Y −5.000 to 25.000 = 30.000, Z −2.000 to 0.000 = 2.000.',
      'Nominal time 1 min 15 s: 1 min 10 s at feed, 3.4 s at rapid, 2 s waiting.',
      '2 tool sections. T1, END MILL D10, from line 3: 1 min. Tool not known, from line 9: 15 s.',
      'No findings.',
    ]);
  });

  it('says what is left out and why the path ends', () => {
    const stopped = { ...summary, waitSeconds: 0, untimed: 1, stopped: { line: 11, why: 'the loop never ends' } };
    const texts = summaryTexts({ ...plate, inch: true, cutBounds: [1, 1, 1, 0, 0, 0], summary: stopped });
    expect(texts).toContain('Nothing is cut.');
    expect(texts[2]).toMatch(/3\.4 s at rapid\. 1 move without a known feed not counted\.$/);
    expect(texts).toContain('The path ends at line 12: the loop never ends.');
  });

  it('counts findings by weight and reads the first', () => {
    const finding = (line: number, severity: 'error' | 'warning' | 'hint') => ({
      line,
      severity,
      message: `Message ${line}.`,
      x: 0,
      y: 0,
      z: 0,
    });
    const findings = [finding(4, 'error'), ...[5, 6, 7, 8, 9].map((line) => finding(line, 'warning'))];
    expect(summaryTexts({ ...plate, findings, unplaced: 2 }).at(-1)).toBe(
      'Findings: 1 error, 5 warnings, 2 without a mark. Line 5: Message 4. Line 6: Message 5. Line 7: Message 6. Line 8: Message 7. Line 9: Message 8. And 1 more.',
    );
  });

  it('lists no more than ten tools', () => {
    const sections = Array.from({ length: 12 }, (_, i) => section(i + 1, '', i, 1));
    const text = summaryTexts({ ...plate, summary: { ...summary, sections, moreSections: 3 } })[3];
    expect(text).toMatch(/^15 tool sections\. .*T10, from line 10: 1 s\. And 5 more\.$/);
  });

  it.each([
    [0, '0 s'],
    [9.94, '9.9 s'],
    [9.96, '10 s'],
    [59.6, '1 min'],
    [3600, '1 h'],
    [3725, '1 h 2 min 5 s'],
  ])('%f seconds', (seconds, text) => {
    expect(durationText(seconds)).toBe(text);
  });
});

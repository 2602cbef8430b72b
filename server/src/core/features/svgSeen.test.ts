import { describe, expect, test } from 'vitest';
import { Analysis } from '../checks/analysis.ts';
import { DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { type SeenDrawing, seenSvg } from './svgSeen.ts';

const START = 'G17 G21 G40 G49 G80 G90 G94 G54\nT1 M6\nS1000 M3\nG0 X0 Y0 Z5.\n';
const TOOLS = `${START}G1 Z-1. F100\nX20.\nG3 X30. Y10. J10.\nG0 Z5.\nT2 M6\nG0 X50. Y40.\nG1 Z-2.\nG3 X50. Y40. Z-3. I-5.\nT1 M6\nG1 X0. Y60.\nM30\n`;

const drawn = (program: string, drawing: Partial<SeenDrawing> = {}): string => {
  const analysis = new Analysis(program);
  analysis.run();
  const all = { name: 'part.nc', plane: 'XY', units: 'mm', ...drawing } as const;
  return [...seenSvg(analysis, DEFAULT_CONFIGURATION, all)].join('');
};
/** What is drawn in lines, without rings, dimensions and zero. */
const strokes = (svg: string): string => [...svg.matchAll(/d="(M[^"]*)"/g)].map(([, d]) => d).join('\n');

describe('the drawing of what is seen', () => {
  test('all of it, with its dimensions', () => {
    const svg = drawn(TOOLS);
    expect(strokes(svg)).toContain('M0 0L20 0A10 10 0 0 0 30 -10');
    expect(strokes(svg)).toContain('M30 -10L50 -40');
    expect(strokes(svg)).toContain('L0 -60');
    expect(svg).toContain('X 50.000 (0.000 to 50.000)');
    expect(svg).toContain('Y 60.000 (0.000 to 60.000)');
    expect(svg).toContain('>part.nc, path in XY<');
  });

  test('in inch', () => {
    expect(drawn(TOOLS, { units: 'inch' })).toContain('X 1.9685 (0.0000 to 1.9685)');
  });

  test.each([
    ['rapid', ['M30 -10L50 -40'], ['L20 0', 'A10 10', 'A5 5', 'L0 -60']],
    ['cut', ['L20 0', 'L0 -60'], ['A10 10', 'A5 5', 'L50 -40']],
    ['arc', ['A10 10'], ['L20 0', 'A5 5', 'L50 -40']],
    ['helix', ['A5 5'], ['A10 10', 'L20 0']],
    ['plunge', ['a0.75 0.75'], ['A10 10', 'L20 0']],
  ] as const)('without the kind %s', (kind, gone, left) => {
    const all = strokes(drawn(TOOLS));
    const seen = strokes(drawn(TOOLS, { hiddenKinds: [kind] }));
    const ring = /a([\d.]+) \1/;
    for (const text of gone) {
      if (kind === 'plunge') expect([ring.test(all), ring.test(seen)]).toEqual([true, false]);
      else expect([all.includes(text), seen.includes(text)]).toEqual([true, false]);
    }
    for (const text of left) expect(seen).toContain(text);
  });

  test('without a tool section, and dimensions of what is left', () => {
    const svg = drawn(TOOLS, { hiddenSections: [1, 2] });
    expect(strokes(svg)).toContain('L20 0');
    expect(strokes(svg)).not.toContain('A5 5');
    expect(svg).toContain('X 30.000 (0.000 to 30.000)');
    expect(drawn(TOOLS, { hiddenSections: [0] })).toContain('Y 50.000 (10.000 to 60.000)');
  });

  test('all programs of a file', () => {
    const second = `%\nO2\n${START}G1 X77. F100\nM30\n%\n`;
    expect(strokes(drawn(`%\nO1\n${START}G1 X11. F100\nM30\n${second}`))).toMatch(/L11 0[\s\S]*L77 0/);
  });

  test('a path where nothing is left', () => {
    const svg = drawn(TOOLS, { hiddenSections: [0, 1, 2] });
    expect(svg).toMatch(/<\/svg>\n$/);
    expect(svg).not.toContain('NaN');
    expect(svg).not.toContain('(0.000 to');
  });
});

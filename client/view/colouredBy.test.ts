import { describe, expect, it } from 'vitest';
import {
  createPackedPath,
  PathStyle,
  ROW_WIDTH,
  RowField,
  STYLE_BITS,
} from '../../server/src/core/geometry/packedLayout.ts';
import { rowColours, scaleOf, toolColour } from './colouredBy.ts';
import { channelsOf, rampColour, rampTable } from './colours.ts';
import { amountText, amountUnit, toolText } from './legend.ts';
import type { ShownPiece } from './picture.ts';
import type { Theme } from './theme.ts';

const theme = { tools: ['#0072b2', '#d55e00'], ramp: [0, 0.8], contour: '#808080' } as unknown as Theme;

/** A piece with a way a row: tool, feed, speed, style. */
function pieceOf(ways: readonly (readonly [number, number, number, number])[]): ShownPiece {
  const path = createPackedPath(ways.length + 1, 0, ways.length);
  ways.forEach(([tool, feed, speed, style], i) => {
    path.rows[i * ROW_WIDTH + RowField.tool] = tool;
    path.rows[i * ROW_WIDTH + RowField.feed] = feed;
    path.rows[i * ROW_WIDTH + RowField.speed] = speed;
    path.rowOf[i + 1] = i;
    path.codes[i + 1] = (i << STYLE_BITS) | style;
  });
  return { id: 1, firstLine: 0, path, startSeconds: 0, seconds: 0 };
}

const { cut, rapid, arc } = PathStyle;
const piece = pieceOf([
  [3, 5000, 900, rapid],
  [3, 200, 1000, cut],
  [1, 800, Number.NaN, arc],
  [-1, Number.NaN, 3000, cut],
]);
const cutBounds = [0, 0, -12, 10, 10, 1];

describe('colours by what holds on a move', () => {
  it('takes feeds and speeds from what is cut, not from rapids', () => {
    expect(scaleOf('feed', [piece], cutBounds, 60)).toEqual({
      by: 'feed',
      least: 200,
      greatest: 800,
      values: [200, 800],
    });
    expect(scaleOf('speed', [piece], cutBounds, 60)).toMatchObject({ least: 1000, greatest: 3000 });
    expect(scaleOf('tool', [piece], cutBounds, 60)).toEqual({ by: 'tool', tools: [3, 1, -1] });
    expect(scaleOf('depth', [piece], cutBounds, 60)).toEqual({ by: 'depth', least: -12, greatest: 1 });
    expect(scaleOf('time', [piece], cutBounds, 60)).toEqual({ by: 'time', least: 0, greatest: 60 });
  });

  it('lists few amounts one by one and more as a scale', () => {
    const many = pieceOf(Array.from({ length: 7 }, (_, i) => [1, 100 + i, 1000, cut] as const));
    expect(scaleOf('feed', [many], cutBounds, 1)).toEqual({ by: 'feed', least: 100, greatest: 106 });
    expect(scaleOf('feed', [], cutBounds, 1)).toMatchObject({ least: Infinity, greatest: -Infinity });
  });

  it('gives each row its colour, none where the number is not known', () => {
    const { data, width } = rowColours(piece.path, scaleOf('feed', [piece], cutBounds, 60), theme);
    const row = (index: number): number[] => [...data.subarray(index * 4, index * 4 + 4)];
    expect(width * 4).toBe(data.length);
    expect(row(1)).toEqual([...channelsOf(rampColour(theme.ramp, 0)), 255]);
    expect(row(2)).toEqual([...channelsOf(rampColour(theme.ramp, 1)), 255]);
    expect(row(3)).toEqual([0, 0, 0, 0]);
    const tools = rowColours(piece.path, scaleOf('tool', [piece], cutBounds, 60), theme).data;
    expect([...tools.subarray(4, 12)]).toEqual([0, 0x72, 0xb2, 255, 0xd5, 0x5e, 0, 255]);
    expect(tools[15]).toBe(0);
  });

  it('gives tools colours in their order and starts again behind the last', () => {
    expect([9, 4, 7].map((tool) => toolColour([9, 4, 7], tool, theme))).toEqual(['#0072b2', '#d55e00', '#0072b2']);
    expect(toolColour([-1, 4], 4, theme)).toBe('#0072b2');
    expect(toolColour([-1, 4], -1, theme)).toBeUndefined();
    expect(toolColour([4], 5, theme)).toBeUndefined();
  });

  it('reads colours as they are written', () => {
    expect(channelsOf('#0a1')).toEqual([0, 170, 17]);
    expect(channelsOf('#56b4e9')).toEqual([86, 180, 233]);
    expect(channelsOf('#56b4e9cc')).toEqual([86, 180, 233]);
    expect(channelsOf('rgb(1, 22, 255)')).toEqual([1, 22, 255]);
    expect(channelsOf('teal')).toEqual([0, 0, 0]);
  });

  it('shows amounts in the published viridis colours, from the dark end to the bright one', () => {
    // First and last colour of viridis: S. van der Walt, N. Smith, matplotlib 1.5 (2015).
    const table = rampTable([0, 1]);
    expect([...table.subarray(0, 4)]).toEqual([68, 1, 84, 255]);
    expect([...table.subarray(-4)]).toEqual([253, 231, 37, 255]);
  });

  it('says amounts in the units of the program', () => {
    expect([254, 1000.04].map((feed) => amountText('feed', feed, true))).toEqual(['10', '39.37']);
    expect(amountText('feed', 1000.04, false)).toBe('1000');
    expect(amountText('depth', -12, false)).toBe('−12.000');
    expect(amountText('depth', -25.4, true)).toBe('−1.0000');
    expect([0, 59.6, 61, 3661].map((time) => amountText('time', time, false))).toEqual([
      '0:00',
      '1:00',
      '1:01',
      '1:01:01',
    ]);
    expect([amountUnit('feed', true), amountUnit('speed', true)]).toEqual(['in/min', 'rev/min']);
    expect(toolText({ number: 3, description: '', kind: 'ball-mill', diameter: 8 }, false)).toBe('T3 ball mill ⌀8.000');
    expect(toolText({ number: -1, description: '' }, false)).toBe('tool not known');
  });
});

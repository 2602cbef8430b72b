// The colours of the lines where the path is drawn without a graphics card: the same as in its shaders, in fewer steps.
import { PathStyle, ROW_WIDTH, STYLE_MASK } from '../../server/src/core/geometry/packedLayout.ts';
import { partOf, rowColour, type Scale } from './colouredBy.ts';
import { rampColour } from './colours.ts';
import type { ShownPiece } from './picture.ts';
import type { Theme } from './theme.ts';

/** Colours of one scale, so that a stroke of one colour does not end at every vertex. */
const STEPS = 24;

/** Gives the colour of the way to a vertex of the piece. */
export function wayColours(piece: ShownPiece, scale: Scale, theme: Theme): (vertex: number) => string {
  const { path, times, startSeconds } = piece;
  const styleOf = (vertex: number): number => path.codes[vertex] & STYLE_MASK;
  if (scale.by === 'kind') {
    return (vertex) => theme.path[styleOf(vertex)];
  }
  if (scale.by === 'depth' || scale.by === 'time') {
    const amount =
      scale.by === 'depth'
        ? (vertex: number) => path.positions[3 * vertex + 2] + path.origin[2]
        : (vertex: number) => startSeconds + (times?.seconds[vertex] ?? 0);
    const part = (vertex: number): number => Math.min(1, Math.max(0, partOf(scale, amount(vertex))));
    return (vertex) => rampColour(theme.ramp, Math.round(part(vertex) * STEPS) / STEPS);
  }
  const rows = Array.from({ length: path.rows.length / ROW_WIDTH }, (_, row) =>
    rowColour(path.rows, row * ROW_WIDTH, scale, theme),
  );
  return (vertex) => {
    const isColoured = scale.by === 'tool' || styleOf(vertex) !== PathStyle.rapid;
    return (isColoured ? rows[path.rowOf[vertex]] : undefined) ?? theme.contour;
  };
}

// The slip that the first way through is about, found in the example's own text by plain reading.

/** An arc in the XY plane whose J word was written as K. Places count from 1, lengths in mm. */
export interface ArcSlip {
  readonly line: number;
  /** Column of the K. */
  readonly column: number;
  /** The line with J in its place. */
  readonly repaired: string;
  /** The repaired centre word, `J-5.`. */
  readonly word: string;
  readonly centre: readonly [number, number];
  readonly radius: number;
  /** Angles in radians; `sweep` is negative clockwise. */
  readonly startAngle: number;
  readonly sweep: number;
  /** Height of the arc. */
  readonly z: number;
}

const remarks = /\([^)]*\)?|;.*$/g;

/** Finds it; throws where the example has none. Reads absolute millimetre words only, as the example is written. */
export function findArcSlip(program: string): ArcSlip {
  const position = { X: Number.NaN, Y: Number.NaN, Z: Number.NaN };
  const lines = program.split(/\r?\n/);
  for (const [index, text] of lines.entries()) {
    const bare = text.replace(remarks, (remark) => ' '.repeat(remark.length));
    const before = { ...position };
    for (const axis of ['X', 'Y', 'Z'] as const) {
      position[axis] = numberOf(bare, axis) ?? position[axis];
    }
    const slip = /\bG0?([23])\b.*?\b(K-?\d*\.?\d+\.?)/.exec(bare);
    if (slip) {
      const word = `J${slip[2]!.slice(1)}`;
      const column = bare.indexOf(slip[2]!) + 1;
      const repaired = `${text.slice(0, column - 1)}J${text.slice(column)}`;
      return { line: index + 1, column, repaired, word, ...arcOf(bare, word, slip[1] === '2', before, position) };
    }
  }
  throw new Error('the example has no arc with a K word');
}

type Place = { readonly X: number; readonly Y: number; readonly Z: number };

function arcOf(block: string, word: string, clockwise: boolean, from: Place, to: Place) {
  const centre = [from.X + (numberOf(block, 'I') ?? 0), from.Y + Number(word.slice(1))] as const;
  const startAngle = Math.atan2(from.Y - centre[1], from.X - centre[0]);
  const turn = Math.atan2(to.Y - centre[1], to.X - centre[0]) - startAngle;
  const full = 2 * Math.PI;
  const sweep = clockwise ? -(((-turn % full) + full) % full || full) : ((turn % full) + full) % full || full;
  return { centre, radius: Math.hypot(from.X - centre[0], from.Y - centre[1]), startAngle, sweep, z: to.Z };
}

function numberOf(block: string, letter: string): number | undefined {
  const found = new RegExp(`${letter}(-?\\d*\\.?\\d*)`).exec(block)?.[1];
  return found ? Number(found) : undefined;
}

/** The pattern that holes lie in: a row, a circle, a grid, a frame, or a list of places. Lengths mm, angles degrees. */
import type { Place, RawValues } from '../blocks/parameter.ts';
import { type Pattern, patternPlaces } from '../blocks/patterns.ts';
import { short } from '../blocks/readValues.ts';

/** Places written to the micrometre lie this near to where their pattern has them. */
const SAME = 0.0015;
/** The same for patterns whose first place and two far ones are each half a micrometre off in X and Y. */
const SAME_ACROSS = 0.0025;
const DEGREES = 180 / Math.PI;

/** Values of the block `holes` for places, and what the pattern is called. */
export const patternFor = (places: readonly Place[]): { readonly values: RawValues; readonly words: string } =>
  rowOf(places) ?? circleOf(places) ?? gridOf(places) ?? listOf(places);

/** A list of places as a block takes it. */
export const placesText = (places: readonly Place[]): string =>
  places.map((place) => place.map((value) => short(value, 4)).join(',')).join(';');

const listOf = (places: readonly Place[]): { values: RawValues; words: string } => ({
  values: { pattern: 'list', at: placesText(places) },
  words: places.length === 1 ? 'one hole' : `${places.length} holes`,
});

const liesAt = (place: Place, x: number, y: number, same = SAME): boolean =>
  Math.hypot(place[0] - x, place[1] - y) <= same;

const rowOf = (places: readonly Place[]): { values: RawValues; words: string } | undefined => {
  const count = places.length;
  if (count < 3) return undefined;
  const [first, last] = [places[0], places[count - 1]];
  const [dx, dy] = [(last[0] - first[0]) / (count - 1), (last[1] - first[1]) / (count - 1)];
  if (Math.hypot(dx, dy) <= SAME) return undefined;
  if (!places.every((place, i) => liesAt(place, first[0] + i * dx, first[1] + i * dy))) return undefined;
  const angle = Math.atan2(dy, dx) * DEGREES;
  return {
    values: {
      pattern: 'row',
      at: placesText([first]),
      count: String(count),
      spacing: short(Math.hypot(dx, dy), 5),
      ...(angle === 0 ? {} : { angle: short(angle, 6) }),
    },
    words: `a row of ${count} holes`,
  };
};

/** How many places from the first on lie in one row with equal steps, each step only as near as it is written. */
const inFirstRow = (places: readonly Place[]): number => {
  const [first, second] = places;
  const [dx, dy] = [second[0] - first[0], second[1] - first[1]];
  const end = places.findIndex(
    ([x, y], i) => Math.hypot(x - first[0] - i * dx, y - first[1] - i * dy) > SAME * Math.max(1, i),
  );
  return end < 0 ? places.length : end;
};

/** What places that begin with a row may be; `far`: which place lies across from the row's end. */
interface Rectangle {
  readonly kind: 'grid' | 'frame';
  readonly counts: readonly [along: number, across: number];
  readonly far: number;
  /** Its rows all go one way, which the block's do not. */
  readonly isOneWay: boolean;
}

const rectanglesOf = (count: number, along: number): Rectangle[] => {
  const rows = count / along;
  const last = (rows - 1) * along;
  const end = last + along - 1;
  const side = (count + 4 - 2 * along) / 2;
  return [
    { kind: 'grid' as const, counts: [along, rows] as const, far: rows % 2 === 0 ? last : end, isOneWay: false },
    { kind: 'grid' as const, counts: [along, rows] as const, far: end, isOneWay: true },
    { kind: 'frame' as const, counts: [along, side] as const, far: along + side - 2, isOneWay: false },
  ].filter(({ counts: [, across] }) => across >= 2 && Number.isInteger(across));
};

/** A grid, or holes round the edge of a rectangle; in the order of the code but for a grid whose rows all go one way. */
const gridOf = (places: readonly Place[]): { values: RawValues; words: string } | undefined => {
  if (places.length < 4) return undefined;
  const along = inFirstRow(places);
  if (along < 2 || along === places.length) return undefined;
  for (const rectangle of rectanglesOf(places.length, along)) {
    const pattern = patternOf(places, rectangle);
    const made = patternPlaces(pattern, places[0]);
    const { kind, counts, isOneWay } = rectangle;
    if (!made.every((_, i) => liesAt(places[i], ...made[isOneWay ? turned(i, along) : i], SAME_ACROSS))) continue;
    const name = kind === 'grid' ? `a grid of ${counts.join(' by ')} holes` : `a frame of ${places.length} holes`;
    return {
      values: {
        pattern: kind,
        at: placesText([places[0]]),
        count: counts.join(','),
        spacing: pattern.spacings.map((one) => short(one, 5)).join(','),
        ...(pattern.angle === 0 ? {} : { angle: short(pattern.angle, 6) }),
      },
      words: isOneWay ? `${name}, the rows to and fro` : name,
    };
  }
  return undefined;
};

/** Spacings and angle by the row's end and the place across from it: the longer side says the angle best. */
const patternOf = (
  places: readonly Place[],
  { kind, counts, far }: Rectangle,
): Extract<Pattern, { spacings: unknown }> => {
  const [first, corner, opposite] = [places[0], places[counts[0] - 1], places[far]];
  const [ax, ay] = [corner[0] - first[0], corner[1] - first[1]];
  const [bx, by] = [opposite[0] - corner[0], opposite[1] - corner[1]];
  // Negative where the rows follow on the right of the first one.
  const side = ax * by - ay * bx < 0 ? -1 : 1;
  const isLongAlong = Math.hypot(ax, ay) >= Math.hypot(bx, by);
  const angle = isLongAlong ? Math.atan2(ay, ax) : Math.atan2(-side * bx, side * by);
  return {
    kind,
    counts,
    spacings: [Math.hypot(ax, ay) / (counts[0] - 1), (side * Math.hypot(bx, by)) / (counts[1] - 1)],
    angle: angle * DEGREES,
  };
};

/** Where a hole of rows that all go one way stands among rows that go to and fro. */
const turned = (index: number, along: number): number => {
  const row = Math.floor(index / along);
  return row % 2 === 0 ? index : row * along + along - 1 - (index % along);
};

const circleOf = (places: readonly Place[]): { values: RawValues; words: string } | undefined => {
  const count = places.length;
  if (count < 3) return undefined;
  // Places far apart say the centre best: thirds of a full circle, the ends and the middle of an arc.
  const thirds = centreOf(places[0], places[Math.floor(count / 3)], places[Math.floor((2 * count) / 3)]);
  const ends = centreOf(places[0], places[Math.floor((count - 1) / 2)], places[count - 1]);
  // A centre is written round, and the places say it only as near as they are written themselves.
  for (const digits of [1, 2, 3, 4]) {
    for (const centre of [thirds, ends]) {
      if (centre === undefined) continue;
      const found = circleAbout(places, [Number(centre[0].toFixed(digits)), Number(centre[1].toFixed(digits))]);
      if (found !== undefined) return found;
    }
  }
  return undefined;
};

const circleAbout = (places: readonly Place[], [x, y]: Place): { values: RawValues; words: string } | undefined => {
  const count = places.length;
  const radius = places.reduce((sum, place) => sum + Math.hypot(place[0] - x, place[1] - y), 0) / count;
  const angles = places.map((place) => Math.atan2(place[1] - y, place[0] - x) * DEGREES);
  const step = stepOf(angles);
  const isFull = Math.abs(Math.abs(step) * count - 360) < (SAME / radius) * DEGREES * count;
  if (count === 3 && !isFull) return undefined;
  const pitch = isFull ? Math.sign(step) * (360 / count) : step;
  const sweep = isFull ? Math.sign(step) * 360 : pitch * (count - 1);
  const start = angles[0] + angles.reduce((sum, angle, i) => sum + shortWay(angle - angles[0] - i * pitch), 0) / count;
  const fits = places.every((place, i) => {
    const angle = (start + i * pitch) / DEGREES;
    return liesAt(place, x + radius * Math.cos(angle), y + radius * Math.sin(angle));
  });
  if (!fits || Math.abs(sweep) > 360) return undefined;
  return {
    values: {
      pattern: 'circle',
      at: placesText([[x, y]]),
      radius: short(radius, 4),
      count: String(count),
      ...(Math.abs(start) < 1e-4 ? {} : { start: short(start, 5) }),
      ...(sweep === 360 ? {} : { sweep: short(sweep, 5) }),
    },
    words: `${count} holes on a circle of ${short(2 * radius, 3)}`,
  };
};

/** An angle between −180 and 180. */
const shortWay = (angle: number): number => ((((angle + 180) % 360) + 360) % 360) - 180;

/** The angle from hole to hole, over all of them, each turn taken the short way; positive counter-clockwise. */
const stepOf = (angles: readonly number[]): number => {
  const turns = angles.slice(1).map((angle, i) => shortWay(angle - angles[i]));
  return turns.reduce((sum, turn) => sum + turn, 0) / turns.length;
};

/** Centre of the circle through three places; undefined where they lie on a line. */
const centreOf = (a: Place, b: Place, c: Place): Place | undefined => {
  const [bx, by, cx, cy] = [b[0] - a[0], b[1] - a[1], c[0] - a[0], c[1] - a[1]];
  const cross = 2 * (bx * cy - by * cx);
  const size = Math.max(Math.hypot(bx, by), Math.hypot(cx, cy));
  if (!(Math.abs(cross) > 1e-3 * size * size)) return undefined;
  const [bb, cc] = [bx * bx + by * by, cx * cx + cy * cy];
  return [a[0] + (cy * bb - by * cc) / cross, a[1] + (bx * cc - cx * bb) / cross];
};

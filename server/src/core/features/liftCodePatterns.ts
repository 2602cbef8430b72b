/** The pattern that holes lie in: a row, a circle, or a list of places. Lengths mm, angles degrees. */
import type { Place, RawValues } from '../blocks/parameter.ts';
import { short } from '../blocks/readValues.ts';

/** Places written to the micrometre lie this near to where their pattern has them. */
const SAME = 0.0015;
const DEGREES = 180 / Math.PI;

/** Values of the block `holes` for places, and what the pattern is called. */
export const patternFor = (places: readonly Place[]): { readonly values: RawValues; readonly words: string } =>
  rowOf(places) ?? circleOf(places) ?? listOf(places);

/** A list of places as a block takes it. */
export const placesText = (places: readonly Place[]): string =>
  places.map((place) => place.map((value) => short(value, 4)).join(',')).join(';');

const listOf = (places: readonly Place[]): { values: RawValues; words: string } => ({
  values: { pattern: 'list', at: placesText(places) },
  words: places.length === 1 ? 'one hole' : `${places.length} holes`,
});

const liesAt = (place: Place, x: number, y: number): boolean => Math.hypot(place[0] - x, place[1] - y) <= SAME;

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

// The cutter as a solid of revolution: its outline from the tip up, as far as the tool table and the remarks know it.
import type { PathTool } from '../../server/src/core/geometry/pathSummary.ts';

/** A ring of the outline, mm: its radius and its height above the tip. The rings of one cutter ascend. */
export interface Ring {
  readonly radius: number;
  readonly height: number;
}

/** Kinds that end in a point, with the angle that is taken where the tool table gives none, degrees. Common practice: a twist drill 118, spotting drill and countersink 90, centre drill 60. */
const POINTED: Readonly<Record<string, number>> = {
  drill: 118,
  'spot-drill': 90,
  'centre-drill': 60,
  countersink: 90,
  'chamfer-mill': 90,
  engraver: 60,
};
/** Where the length of the flutes is not known the cutter is drawn so many diameters long. */
const DIAMETERS_LONG = 3;
/** Rings of a rounded corner. */
const CORNER_RINGS = 6;

/** The outline of a cutter; `undefined` where its diameter is not known. A probe is a ball. */
export function outlineOf({
  kind = '',
  diameter,
  cornerRadius,
  pointAngle,
  fluteLength,
}: PathTool): Ring[] | undefined {
  if (diameter === undefined || !(diameter > 0)) {
    return undefined;
  }
  const radius = diameter / 2;
  const top = Math.max(fluteLength ?? 0, fluteLength === undefined ? DIAMETERS_LONG * diameter : diameter / 4);
  const isBall = kind === 'ball-mill' || kind === 'probe';
  const corner = Math.min(radius, Math.max(0, isBall ? radius : (cornerRadius ?? 0)));
  const angle = pointAngle ?? POINTED[kind];
  if (kind in POINTED && angle !== undefined && angle > 0 && angle < 180) {
    const tip = radius / Math.tan((angle * Math.PI) / 360);
    return [
      { radius: 0, height: 0 },
      { radius, height: tip },
      { radius, height: Math.max(top, tip * 1.2) },
    ];
  }
  const rings: Ring[] = [{ radius: radius - corner, height: 0 }];
  for (let ring = 1; corner > 0 && ring <= CORNER_RINGS; ring++) {
    const turn = (ring / CORNER_RINGS) * (Math.PI / 2);
    rings.push({ radius: radius - corner + corner * Math.sin(turn), height: corner * (1 - Math.cos(turn)) });
  }
  if (corner === 0) {
    rings.push({ radius, height: 0 });
  }
  return [...rings, { radius, height: Math.max(top, corner * 1.2) }];
}

/** A place on the screen. */
interface Place {
  readonly x: number;
  readonly y: number;
}

/** The corners of the smallest convex shape about places, in order. Every outline here is convex, so it is what is seen. */
export function hullOf(places: readonly Place[]): Place[] {
  const sorted = [...places].sort((a, b) => a.x - b.x || a.y - b.y);
  const half = (ordered: readonly Place[]): Place[] => {
    const hull: Place[] = [];
    for (const place of ordered) {
      while (hull.length >= 2 && turn(hull[hull.length - 2], hull[hull.length - 1], place) <= 0) {
        hull.pop();
      }
      hull.push(place);
    }
    return hull.slice(0, -1);
  };
  return [...half(sorted), ...half(sorted.reverse())];
}

const turn = (a: Place, b: Place, c: Place): number => (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);

/**
 * Drills for tapped holes.
 * Sources: metric threads by ISO 2306 (coarse pitches as a table; fine pitches are D − P, but D − 1.2 for a pitch of
 * 1.25), typed from memory. Unified threads by the usual drill tables of the trade (ASME B1.1 gives the minor diameters
 * that they are chosen for), pipe threads likewise; common practice, from memory.
 */
import { drillDiameterByName } from './drillSizes.ts';
import type { Thread } from './threadName.ts';

/** ISO 2306, coarse pitch: nominal diameter and drill, mm. */
// biome-ignore format: a table reads best in rows
const coarseDrills: ReadonlyMap<number, number> = new Map([
  [1, 0.75], [1.1, 0.85], [1.2, 0.95], [1.4, 1.1], [1.6, 1.25], [1.8, 1.45], [2, 1.6], [2.2, 1.75],
  [2.5, 2.05], [3, 2.5], [3.5, 2.9], [4, 3.3], [4.5, 3.7], [5, 4.2], [6, 5], [7, 6],
  [8, 6.8], [9, 7.8], [10, 8.5], [11, 9.5], [12, 10.2], [14, 12], [16, 14], [18, 15.5],
  [20, 17.5], [22, 19.5], [24, 21], [27, 24], [30, 26.5], [33, 29.5], [36, 32], [39, 35],
  [42, 37.5], [45, 40.5], [48, 43], [52, 47], [56, 50.5], [60, 54.5], [64, 58],
]);

/** Drill of a unified thread by size and threads an inch: a number, a letter, or inches as a fraction. */
// biome-ignore format: a table reads best in rows
const unifiedDrills: ReadonlyMap<string, string> = new Map([
  ['#0-80', '3/64'], ['#1-64', '#53'], ['#1-72', '#53'], ['#2-56', '#50'], ['#2-64', '#50'], ['#3-48', '#47'],
  ['#3-56', '#45'], ['#4-40', '#43'], ['#4-48', '#42'], ['#5-40', '#38'], ['#5-44', '#37'], ['#6-32', '#36'],
  ['#6-40', '#33'], ['#8-32', '#29'], ['#8-36', '#29'], ['#10-24', '#25'], ['#10-32', '#21'], ['#12-24', '#16'],
  ['#12-28', '#14'], ['#12-32', '#13'], ['1/4-20', '#7'], ['1/4-28', '#3'], ['1/4-32', '7/32'], ['5/16-18', 'F'],
  ['5/16-24', 'I'], ['5/16-32', '9/32'], ['3/8-16', '5/16'], ['3/8-24', 'Q'], ['3/8-32', '11/32'], ['7/16-14', 'U'],
  ['7/16-20', '25/64'], ['7/16-28', 'Y'], ['1/2-13', '27/64'], ['1/2-20', '29/64'], ['1/2-28', '15/32'],
  ['9/16-12', '31/64'], ['9/16-18', '33/64'], ['9/16-24', '33/64'], ['5/8-11', '17/32'], ['5/8-18', '37/64'],
  ['5/8-24', '37/64'], ['11/16-24', '41/64'], ['3/4-10', '21/32'], ['3/4-16', '11/16'], ['3/4-20', '45/64'],
  ['13/16-20', '49/64'], ['7/8-9', '49/64'], ['7/8-14', '13/16'], ['7/8-20', '53/64'], ['15/16-20', '57/64'],
  ['1-8', '7/8'], ['1-12', '59/64'], ['1-14', '15/16'], ['1-20', '61/64'], ['1 1/16-18', '1'],
  ['1 1/8-7', '63/64'], ['1 1/8-12', '1 3/64'], ['1 1/8-18', '1 5/64'], ['1 3/16-18', '1 9/64'],
  ['1 1/4-7', '1 7/64'], ['1 1/4-12', '1 11/64'], ['1 1/4-18', '1 3/16'], ['1 5/16-18', '1 17/64'],
  ['1 3/8-6', '1 7/32'], ['1 3/8-12', '1 19/64'], ['1 3/8-18', '1 5/16'], ['1 7/16-18', '1 3/8'],
  ['1 1/2-6', '1 11/32'], ['1 1/2-12', '1 27/64'], ['1 1/2-18', '1 7/16'],
]);

/** Drill of a G thread in mm, between the limits of the minor diameter in ISO 228-1. */
// biome-ignore format: a table reads best in rows
const gDrills: ReadonlyMap<string, number> = new Map([
  ['G1/16', 6.8], ['G1/8', 8.8], ['G1/4', 11.8], ['G3/8', 15.25], ['G1/2', 19], ['G5/8', 21], ['G3/4', 24.5],
  ['G7/8', 28.25], ['G1', 30.75], ['G1 1/8', 35.4], ['G1 1/4', 39.4], ['G1 1/2', 45.3], ['G1 3/4', 51.2], ['G2', 57.1],
]);

/** Drill of an NPT thread in mm, for a hole that is not reamed to the taper. */
// biome-ignore format: a table reads best in rows
const nptDrills: ReadonlyMap<string, number> = new Map([
  ['1/16 NPT', 6.25], ['1/8 NPT', 8.6], ['1/4 NPT', 11.1], ['3/8 NPT', 14.7], ['1/2 NPT', 18.2], ['3/4 NPT', 23.4],
  ['1 NPT', 29.4], ['1 1/4 NPT', 38.1], ['1 1/2 NPT', 44], ['2 NPT', 56.4],
]);

/** A drill for a thread. */
export interface TapDrill {
  /** Diameter, mm. */
  readonly diameter: number;
  /** How the trade calls it where it is no round number of millimetres: `#7`, `F`, `5/16`. */
  readonly name: string | undefined;
}

const inchDrill = (name: string): TapDrill => {
  if (/^[#A-Z]/.test(name)) return { diameter: drillDiameterByName(name.replace('#', '')) ?? Number.NaN, name };
  const [, whole = '0', above = '0', below = '1'] = /^(?:(\d+)(?: |$))?(?:(\d+)\/(\d+))?$/.exec(name) ?? [];
  return { diameter: (Number(whole) + Number(above) / Number(below)) * 25.4, name };
};

const metricDrill = (diameter: number, pitch: number, fine: boolean): TapDrill => {
  const coarse = fine ? undefined : coarseDrills.get(diameter);
  const exact = coarse ?? diameter - (pitch === 1.25 ? 1.2 : pitch);
  return { diameter: Math.round(exact * 1000) / 1000, name: undefined };
};

/**
 * The usual drill for a thread cut by a tap; for a forming tap D − P/2, rounded down to 0.05 mm (common practice).
 * Undefined where no table has one.
 */
export const tapDrillOf = (thread: Thread, forming = false): TapDrill | undefined => {
  const { series, name, diameter, pitch } = thread;
  const byTable = (table: ReadonlyMap<string, number>): TapDrill | undefined => {
    const drill = table.get(name);
    return drill === undefined ? undefined : { diameter: drill, name: undefined };
  };
  if (series === 'pipe-g') return byTable(gDrills);
  if (series === 'npt') return byTable(nptDrills);
  if (forming) return { diameter: Math.floor((diameter - pitch / 2) * 20 + 1e-6) / 20, name: undefined };
  if (series === 'metric') return metricDrill(diameter, pitch, thread.fine === true);
  const drill = unifiedDrills.get(name.replace(/ UN\w+$/, ''));
  return drill === undefined ? undefined : inchDrill(drill);
};

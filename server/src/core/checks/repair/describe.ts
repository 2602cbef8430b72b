/** A repair named by its result. */

import { shiftOf } from '../../machine/coordinates.ts';
import { Mode } from '../../machine/modes.ts';
import { planeOf } from '../../machine/planes.ts';
import { shortNumber } from '../support/numbers.ts';
import { pointNumber } from './numberStyle.ts';
import type { ArcSite } from './site.ts';
import type { DrawnArc } from './trial.ts';

/** "centre X12. Y-4., radius 8., 90° clockwise" (or "full circle clockwise"), in the program's units and the block's way of writing. */
export const describe = (site: ArcSite, { plane, centre, radius, sweep }: DrawnArc): string => {
  const { first, second } = planeOf(plane);
  const { style, unit, modes } = site;
  const inProgram = (axis: number, value: number): string =>
    `${'XYZ'[axis]}${pointNumber((value - shiftOf(modes, axis)) / unit, style)}`;
  const words = [inProgram(first, centre[0]), inProgram(second, centre[1])].sort();
  const degrees = shortNumber((Math.abs(sweep) * 180) / Math.PI, 1);
  const way = isFullCircle(sweep) ? 'full circle' : `${degrees}°`;
  // A mirrored path turns the other way round than the code says: the name is that of the code.
  const isMirrored = site.modes[Mode.scaling] === 1 && modes[Mode.scaleX + first] * modes[Mode.scaleX + second] < 0;
  const turns = sweep < 0 !== isMirrored ? 'clockwise' : 'counter-clockwise';
  return `centre ${words.join(' ')}, radius ${pointNumber(radius / unit, style)}, ${way} ${turns}`;
};

/** True for a sweep (radians) of one whole turn. */
export const isFullCircle = (sweep: number): boolean => Math.abs(Math.abs(sweep) - 2 * Math.PI) < 1e-9;

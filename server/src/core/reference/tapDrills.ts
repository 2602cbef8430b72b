/**
 * The drill for a thread, out of the tables beside this file. Metric fine pitches are not in a table: ISO 2306 has D − P for
 * them, but D − 1.2 for a pitch of 1.25 (from memory).
 */
import { drillDiameterByName } from './drillSizes.ts';
import { isoTapDrills } from './isoTapDrills.ts';
import { gTapDrills, nptTapDrills } from './pipeTapDrills.ts';
import type { Thread } from './threadName.ts';
import { unifiedTapDrills } from './unifiedTapDrills.ts';

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
  const coarse = fine ? undefined : isoTapDrills.get(diameter);
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
  if (series === 'pipe-g') return byTable(gTapDrills);
  if (series === 'npt') return byTable(nptTapDrills);
  if (forming) return { diameter: Math.floor((diameter - pitch / 2) * 20 + 1e-6) / 20, name: undefined };
  if (series === 'metric') return metricDrill(diameter, pitch, thread.fine === true);
  const drill = unifiedTapDrills.get(name.replace(/ UN\w+$/, ''));
  return drill === undefined ? undefined : inchDrill(drill);
};

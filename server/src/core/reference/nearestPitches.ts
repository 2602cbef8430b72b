/** Standard pitches near a measured one. The pitches come from the tables of ISO 261, ASME B1.1, ISO 228-1 and ASME B1.20.1 beside this file. */

import { isoThreadSizes } from './isoThreads.ts';
import { gThreadSizes, nptThreadSizes } from './pipeThreads.ts';
import { unifiedThreadSizes } from './unifiedThreads.ts';

/** A pitch in millimetres with a name that says which threads have it. */
export interface StandardPitch {
  readonly name: string;
  readonly pitch: number;
}

/** The best known users of a metric pitch: one coarse and one fine, first choice sizes before others. */
function metricUsers(pitch: number): string {
  const byChoice = [...isoThreadSizes].sort((a, b) => a.choice - b.choice || a.diameter - b.diameter);
  const coarse = byChoice.find((size) => size.coarse === pitch);
  const fine = byChoice.find((size) => size.fine.includes(pitch));
  const users = [coarse && `M${coarse.diameter}`, fine && `M${fine.diameter} fine`];
  return users.filter((user) => user !== undefined).join(', ');
}

function metricPitches(): StandardPitch[] {
  const pitches = new Set(
    isoThreadSizes.flatMap((size) => [...(size.coarse === undefined ? [] : [size.coarse]), ...size.fine]),
  );
  return [...pitches].map((pitch) => ({ name: `P${pitch} (${metricUsers(pitch)})`, pitch }));
}

function unifiedPitches(): StandardPitch[] {
  const counts = new Set(unifiedThreadSizes.map((entry) => entry.threadsPerInch));
  return [...counts].map((count) => {
    const users = unifiedThreadSizes.filter((entry) => entry.threadsPerInch === count);
    const user =
      users.find((entry) => entry.series === 'UNC') ?? users.find((entry) => entry.series === 'UNF') ?? users[0];
    return { name: `${count} TPI (${user?.size}-${count} ${user?.series})`, pitch: 25.4 / count };
  });
}

/** Pitches that only pipe threads have, each with its smallest common size. */
function pipePitches(): StandardPitch[] {
  const known = new Set(unifiedThreadSizes.map((entry) => entry.threadsPerInch));
  const found = new Map<number, string>();
  const take = (count: number, name: string): void => {
    if (!known.has(count) && !found.has(count)) found.set(count, name);
  };
  for (const { size, threadsPerInch } of gThreadSizes.values()) take(threadsPerInch, `G${size}`);
  for (const { size, threadsPerInch } of nptThreadSizes.values()) take(threadsPerInch, `${size} NPT`);
  return [...found].map(([count, name]) => ({ name: `${count} TPI (${name})`, pitch: 25.4 / count }));
}

let all: readonly StandardPitch[] | undefined;

/** The `count` standard metric, unified and pipe pitches nearest to a pitch in millimetres, nearest first. */
export function nearestPitches(pitch: number, count: number): StandardPitch[] {
  all ??= [...metricPitches(), ...unifiedPitches(), ...pipePitches()];
  return [...all].sort((a, b) => Math.abs(a.pitch - pitch) - Math.abs(b.pitch - pitch)).slice(0, count);
}

/** Writes the way of a thread mill: in by an arc, down or up the helix, out by an arc. Lengths mm. */
import type { BlockWriter } from './blockWriter.ts';
import type { Place } from './parameter.ts';
import type { Lead, Turning } from './threadMillShape.ts';

/** One helix with its leads. */
export interface ThreadWay {
  readonly radius: number;
  readonly lead: Lead;
  readonly turning: Turning;
  readonly pitch: number;
  /** Z of the cutter's end where the helix is lowest. */
  readonly bottom: number;
  readonly turns: number;
  /** Of the cutter's centre, mm/min. */
  readonly feed: number;
}

/** Z where the way in begins and the way out ends: the leads go on with the pitch. */
export const levelsOfWay = ({ lead, turning, pitch, bottom, turns }: ThreadWay): { start: number; end: number } => {
  const low = bottom - lead.share * pitch;
  const high = bottom + (turns + lead.share) * pitch;
  return turning.isUp ? { start: low, end: high } : { start: high, end: low };
};

/** Where the cutter stands before the way in, and behind the way out: seen along the way, they are mirror images. */
export const standsOfWay = (centre: Place, { lead, turning }: ThreadWay): { before: Place; behind: Place } => {
  const across = turning.clockwise ? -lead.across : lead.across;
  return {
    before: [centre[0] + lead.along, centre[1] + across],
    behind: [centre[0] + lead.along, centre[1] - across],
  };
};

/** Writes a way from its start to its end; the cutter stands there already, at the level of its start. */
export const writeThreadWay = (writer: BlockWriter, centre: Place, way: ThreadWay): void => {
  const { radius, lead, turning, pitch, turns, feed } = way;
  const { before, behind } = standsOfWay(centre, way);
  const { start, end } = levelsOfWay(way);
  const wall: Place = [centre[0] + radius, centre[1]];
  const isFromAxis = lead.along === 0;
  const middle: Place = [centre[0] + (isFromAxis ? radius / 2 : radius + lead.radius), centre[1]];
  // From the axis the leads turn as the helix does, from outside the other way round.
  const leadsClockwise = isFromAxis ? turning.clockwise : !turning.clockwise;
  const step = turning.isUp ? pitch : -pitch;
  const first = start + step * lead.share;
  writer.arc(leadsClockwise, before, wall, middle, feed, [['Z', first]]);
  for (let turn = 1; turn <= turns; turn++) {
    writer.arc(turning.clockwise, wall, wall, centre, feed, [['Z', first + step * turn]]);
  }
  writer.arc(leadsClockwise, wall, behind, middle, feed, [['Z', end]]);
};

/** Length of a way along the path, mm. */
export const lengthOfWay = ({ radius, lead, pitch, turns }: ThreadWay): number => {
  const angle = lead.along === 0 ? Math.PI : Math.PI / 2;
  return turns * Math.hypot(2 * Math.PI * radius, pitch) + 2 * Math.hypot(angle * lead.radius, lead.share * pitch);
};

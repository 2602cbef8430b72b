/** Writes taps: the tapping cycles, and the moves in and out of a self-reversing head. */
import type { ControlProfile } from '../machine/profile.ts';
import type { BlockWriter, Word } from './blockWriter.ts';
import type { Place } from './parameter.ts';
import type { TapTask } from './tappingOperation.ts';

/** Levels of a tapped hole, Z in mm: where feed begins, the tip's depth, where the tap is free, where it goes from hole to hole. */
export interface TapHeights {
  readonly clearance: number;
  readonly bottom: number;
  readonly free: number;
  readonly safe: number;
}

const atPlace = (place: Place): Word[] => [
  ['X', place[0]],
  ['Y', place[1]],
];

/** G84 or G74 over all places, back to the safe level between them. The tool stands at the safe level over the first. */
export const writeTappingCycle = (
  writer: BlockWriter,
  places: readonly Place[],
  { clearance, bottom }: TapHeights,
  feed: number,
  { holder, hand, speed, thread, feedsPerTurn }: TapTask,
): void => {
  const { profile, context } = writer;
  const code = hand === 'left' ? 'G74' : 'G84';
  const prepares = holder === 'synchronised' && profile.synchronisedTappingCode >= 0;
  // The spindle stands here. A code that prepares the cycle with its own S starts it in step with Z: one that turns already
  // would have to be stopped first, and not every control does so by itself (common practice, no source).
  if (feedsPerTurn) writer.block('G95');
  if (prepares) writer.block(`M${profile.synchronisedTappingCode}`, ['S', speed]);
  writer.changedMode('G98', `G${context.entry.retract}`);
  // Verbatim: the depth is where the cycle goes, not where it leaves the tool.
  const depth = writer.word(['Z', bottom]);
  writer.block('G98', code, ...atPlace(places[0]), depth, ['R', clearance], ['F', feedsPerTurn ? thread.pitch : feed]);
  writer.furtherPlaces(places.slice(1));
  writer.block('G80');
  if (feedsPerTurn) writer.block('G94');
  // Where a code prepares it, the spindle stands behind the cycle (common practice, no source): said, so that it is started again.
  if (prepares) writer.block('M5');
};

/**
 * In at one feed, round at once with an exact stop, out at the other until the tap is free. The tool
 * stands at the safe level over the first place, and the spindle turns one way all the time.
 */
export const writeHead = (
  writer: BlockWriter,
  places: readonly Place[],
  { clearance, bottom, free, safe }: TapHeights,
  feeds: { readonly in: number; readonly out: number },
): void => {
  const stop = exactStop(writer);
  if (stop.before.length > 0) writer.block(...stop.before);
  for (const [index, place] of places.entries()) {
    if (index > 0) writer.rapid(['X', place[0]], ['Y', place[1]]);
    writer.rapid(['Z', clearance]);
    writer.block(...stop.within, 'G1', ['Z', bottom], ['F', feeds.in]);
    writer.block('G1', ['Z', free], ['F', feeds.out]);
    if (free < safe) writer.rapid(['Z', safe]);
  }
  if (stop.behind.length > 0) writer.block(...stop.behind);
};

/** Words for an exact stop at the bottom, and for the feed override that must not change the feed. */
interface ExactStop {
  readonly before: readonly Word[];
  readonly within: readonly Word[];
  readonly behind: readonly Word[];
}

/** The report has G61.1 and M48 M49, and no G9 (from memory). */
const hasOwnStop = (profile: ControlProfile): boolean =>
  profile.order === 'report' || profile.withoutCodes.includes(90);

const exactStop = ({ profile, context }: BlockWriter): ExactStop => {
  if (!hasOwnStop(profile)) return { before: [], within: ['G9'], behind: [] };
  const { pathControl = 640, isOverrideLocked = false } = context.entry;
  const words = (path: string, lock: string): Word[] => [
    ...(pathControl === 611 ? [] : [path]),
    ...(isOverrideLocked ? [] : [lock]),
  ];
  const back = pathControl % 10 === 0 ? String(pathControl / 10) : (pathControl / 10).toFixed(1);
  return { before: words('G61.1', 'M49'), within: [], behind: words(`G${back}`, 'M48') };
};

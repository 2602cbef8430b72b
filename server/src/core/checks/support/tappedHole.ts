/** What the hole that a tap comes to is like: how deep it is at its full diameter, and how wide. */
import { cutEngagement } from '../../reference/threadMeasures.ts';
import type { Opening } from './shafts.ts';
import type { TapStroke } from './threadWork.ts';

/** The openings that the tap's thread may be cut in: not a spot, and not the path round a boss. */
const boredOpenings = ({ openings, tap }: TapStroke): readonly Opening[] => {
  const major = tap?.thread?.diameter;
  return openings.filter(
    ({ way, diameter }) =>
      way === 'straight' || (way === 'round' && diameter !== undefined && major !== undefined && diameter < major),
  );
};

/** True where something was drilled or bored before the tap came. */
export const isBored = (stroke: TapStroke): boolean => boredOpenings(stroke).length > 0;

/** The opening that lets the tap down deepest: the deepest of those that are wide enough for its core. Undefined without a hole. */
export const deepestOpening = (stroke: TapStroke): Opening | undefined => {
  const openings = boredOpenings(stroke);
  const thread = stroke.tap?.thread;
  const isWide = ({ diameter }: Opening): boolean =>
    thread === undefined || diameter === undefined || cutEngagement(thread.diameter, diameter, thread.pitch) <= 100;
  const wide = openings.filter(isWide);
  return (wide.length > 0 ? wide : openings).reduce<Opening | undefined>(
    (deepest, opening) => (deepest === undefined || opening.full < deepest.full ? opening : deepest),
    undefined,
  );
};

/** The opening that the thread is cut in: the widest of those that go down to the tap's tip, or near it. Undefined where one of them is not known in its diameter. */
export const threadOpening = (stroke: TapStroke): Opening | undefined => {
  const openings = boredOpenings(stroke);
  const deepest = openings.reduce((level, { full }) => Math.min(level, full), Number.POSITIVE_INFINITY);
  const reach = Math.max(deepest, stroke.way.bottom + (stroke.tap?.thread?.pitch ?? 0)) + 1e-6;
  const reaching = openings.filter(({ full }) => full <= reach);
  if (reaching.some(({ diameter }) => diameter === undefined)) return undefined;
  return reaching.reduce<Opening | undefined>(
    (widest, opening) =>
      widest === undefined || Number(opening.diameter) > Number(widest.diameter) ? opening : widest,
    undefined,
  );
};

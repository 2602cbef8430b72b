/** What the hole that a tap comes to is like: how deep it is at its full diameter, and how wide. */
import { cutEngagement } from '../../reference/threadMeasures.ts';
import type { Opening } from './shafts.ts';
import type { TapStroke } from './threadWork.ts';

/** True for an opening that the tap's thread may be cut in: not a spot, and not the path round a boss. */
const isBore = ({ way, diameter }: Opening, major: number | undefined): boolean =>
  way === 'straight' || (way === 'round' && diameter !== undefined && major !== undefined && diameter < major);

const majorOf = ({ tap }: TapStroke): number | undefined => tap?.thread?.diameter;

/** True where something was drilled or bored before the tap came. */
export const isBored = (stroke: TapStroke): boolean => {
  const major = majorOf(stroke);
  for (const opening of stroke.openings) if (isBore(opening, major)) return true;
  return false;
};

/** The opening that lets the tap down deepest: the deepest of those that are wide enough for its core. Undefined without a hole. */
export const deepestOpening = (stroke: TapStroke): Opening | undefined => {
  const thread = stroke.tap?.thread;
  const major = majorOf(stroke);
  let deepest: Opening | undefined;
  let deepestWide: Opening | undefined;
  for (const opening of stroke.openings) {
    if (!isBore(opening, major)) continue;
    if (deepest === undefined || opening.full < deepest.full) deepest = opening;
    const { diameter } = opening;
    const isWide =
      thread === undefined || diameter === undefined || cutEngagement(thread.diameter, diameter, thread.pitch) <= 100;
    if (isWide && (deepestWide === undefined || opening.full < deepestWide.full)) deepestWide = opening;
  }
  return deepestWide ?? deepest;
};

/** The opening that the thread is cut in: the widest of those that go down to the tap's tip, or near it. Undefined where one of them is not known in its diameter. */
export const threadOpening = (stroke: TapStroke): Opening | undefined => {
  const major = majorOf(stroke);
  let deepest = Number.POSITIVE_INFINITY;
  for (const opening of stroke.openings) if (isBore(opening, major)) deepest = Math.min(deepest, opening.full);
  const reach = Math.max(deepest, stroke.way.bottom + (stroke.tap?.thread?.pitch ?? 0)) + 1e-6;
  let widest: Opening | undefined;
  for (const opening of stroke.openings) {
    if (!isBore(opening, major) || !(opening.full <= reach)) continue;
    if (opening.diameter === undefined) return undefined;
    if (widest === undefined || opening.diameter > Number(widest.diameter)) widest = opening;
  }
  return widest;
};

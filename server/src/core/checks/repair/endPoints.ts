/** Candidates with the end point moved onto the circle that centre and start make. */
import { Mode } from '../../machine/modes.ts';
import { behind, type Candidate, editWord, lengthWord } from './candidate.ts';
import { endOf, startOf } from './centres.ts';
import { type Circle, nearestOn, onCircle, type PlanePoint, towardCentre } from './geometry.ts';
import { type ArcSite, axisLetter, isWritten, shiftIn, wordOf } from './site.ts';
import type { LineEdit } from './trial.ts';
import { writing } from './wordOrder.ts';

/** All of them: one coordinate kept and the other one worked out, and the nearest point. */
export const endPointCandidates = (site: ArcSite): Candidate[] => {
  const circle = circleOf(site);
  if (!site.isPlain || circle === undefined) return [];
  const end = endOf(site);
  const { tolerance } = site.arc;
  const points: PlanePoint[] = [
    ...onCircle(circle, 0, end[0], tolerance).map((second): PlanePoint => [end[0], second]),
    ...onCircle(circle, 1, end[1], tolerance).map((first): PlanePoint => [first, end[1]]),
    nearestOn(circle, end),
  ];
  const [first, second] = startOf(site);
  return points.flatMap((point) => {
    // Onto the start point a full turn would come of it.
    if (Math.hypot(point[0] - first, point[1] - second) <= tolerance) return [];
    const edits = pointEdits(site, point);
    if (edits === undefined) return [];
    const does = writing(edits);
    return [{ family: 'end', alike: '', alikeTitle: '', does, edits, isRetyped: false, isGuess: site.arc.byRadius }];
  });
};

/** The circle as centre words and start say it, or as R and the cut before say it. */
const circleOf = ({ arc, ...site }: ArcSite): Circle | undefined => {
  if (!arc.byRadius) {
    const { radius, centreFirst, centreSecond } = arc;
    return radius > 0 && Number.isFinite(radius) ? { centre: [centreFirst, centreSecond], radius } : undefined;
  }
  const radius = Math.abs(arc.programmedRadius);
  const [first, second] = towardCentre([arc.tangentFirst, arc.tangentSecond], arc.clockwise);
  const start = startOf({ arc, ...site });
  const centre: PlanePoint = [start[0] + first * radius, start[1] + second * radius];
  return Number.isFinite(centre[0] + centre[1]) && radius > 0 ? { centre, radius } : undefined;
};

/** The words that lead to a point; undefined where no word of the end point is written, or none would change. */
const pointEdits = (site: ArcSite, point: PlanePoint): LineEdit[] | undefined => {
  if (site.arc.endWord < 0) return undefined;
  const end = endOf(site);
  const isIncremental = site.modes[Mode.distance] === 91;
  const edits: LineEdit[] = [];
  for (const axis of [0, 1] as const) {
    if (Math.abs(point[axis] - end[axis]) < 1e-6) continue;
    const index = wordOf(site, axisLetter(site, axis));
    if (index >= 0 && !isWritten(site, index)) return undefined;
    const from = isIncremental ? startOf(site)[axis] : shiftIn(site, axis);
    const text = lengthWord(site, axisLetter(site, axis), point[axis] - from);
    edits.push(index >= 0 ? editWord(site, index, text) : behind(site, site.arc.endWord, text));
  }
  return edits.length > 0 ? edits.sort((a, b) => a.column - b.column) : undefined;
};

/** Candidates with another centre or another R: worked out from the rest of the arc and from its neighbours. */
import { Mode } from '../../machine/modes.ts';
import { behind, type Candidate, editWord, lastOfArc, lengthWord } from './candidate.ts';
import {
  type Circle,
  centreOnBisector,
  centresThrough,
  circleArriving,
  circleSettingOff,
  type PlanePoint,
  towardCentre,
  turnAbout,
} from './geometry.ts';
import { nameOf } from './letters.ts';
import { type ArcSite, centreLetter, isWritten, lengthOfWord, shiftIn, startAsWritten, wordOf } from './site.ts';
import type { LineEdit } from './trial.ts';
import { writing } from './wordOrder.ts';

const AXES = [0, 1] as const;

/** All of them. */
export const centreCandidates = (site: ArcSite): Candidate[] => {
  if (!site.isPlain) return [];
  const centred = CENTRE_WAYS.flatMap((way) => way(site));
  return [...otherOrigin(site), ...centred, ...radii(site)];
};

export const startOf = ({ arc }: ArcSite): PlanePoint => [arc.startFirst, arc.startSecond];
export const endOf = ({ arc }: ArcSite): PlanePoint => [arc.endFirst, arc.endSecond];

const isKnown = (point: PlanePoint): boolean => Number.isFinite(point[0] + point[1]);
const apart = (a: PlanePoint, b: PlanePoint): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** Words for the centre, as the program counts them now; where the words stand, or behind the end point. */
const centreEdits = (site: ArcSite, centre: PlanePoint, only: readonly (0 | 1)[] = AXES): LineEdit[] => {
  const isAbsolute = site.modes[Mode.arcDistance] === 90;
  const text = (axis: 0 | 1): string =>
    lengthWord(site, centreLetter(site, axis), centre[axis] - (isAbsolute ? shiftIn(site, axis) : startOf(site)[axis]));
  const inOrder = [...only].sort((a, b) => centreLetter(site, a) - centreLetter(site, b));
  const edits: LineEdit[] = [];
  const missing: string[] = [];
  for (const axis of inOrder) {
    const index = wordOf(site, centreLetter(site, axis));
    if (index >= 0) edits.push(editWord(site, index, text(axis)));
    else missing.push(text(axis));
  }
  if (missing.length === 0) return edits;
  const words = missing.join(site.style.wordGap);
  const { radiusWord } = site.arc;
  if (radiusWord >= 0) return [...edits, editWord(site, radiusWord, words)];
  const present = AXES.map((axis) => wordOf(site, centreLetter(site, axis))).filter((index) => index >= 0);
  return [...edits, behind(site, Math.max(lastOfArc(site), ...present), words)];
};

const computed = (
  family: Candidate['family'],
  alike: string,
  alikeTitle: string,
  edits: readonly LineEdit[],
): Candidate => ({
  family,
  alike,
  alikeTitle,
  does: writing(edits),
  edits,
  isRetyped: false,
});

/** Centre words written from the zero where they count from the start, or the other way round: both, or one. */
const otherOrigin = (site: ArcSite): Candidate[] => {
  const isAbsolute = site.modes[Mode.arcDistance] === 90;
  const words = AXES.filter((axis) => isWritten(site, wordOf(site, centreLetter(site, axis))));
  const sets = words.length === 2 ? [[0, 1], [0], [1]] : [words];
  return sets.flatMap((set) => {
    if (set.length === 0 || site.arc.byRadius) return [];
    const edits = set.map((place) => {
      const axis = place as 0 | 1;
      const index = wordOf(site, centreLetter(site, axis));
      const start = startAsWritten(site, axis);
      const length = lengthOfWord(site, index) + (isAbsolute ? start : -start);
      return editWord(site, index, lengthWord(site, centreLetter(site, axis), length));
    });
    const names = set.map((axis) => nameOf(centreLetter(site, axis as 0 | 1))).sort();
    const from = isAbsolute ? 'the program zero' : 'the start point';
    return [computed('origin', `origin ${names.join(' ')}`, `count ${names.join(' and ')} from ${from}`, edits)];
  });
};

/** The radius that the centre words say, whatever their letters. */
const writtenRadius = (site: ArcSite): number => {
  if (site.modes[Mode.arcDistance] === 90) return site.arc.radius;
  const { wordI, wordJ, wordK } = site.arc;
  return Math.hypot(...[wordI, wordJ, wordK].map((index) => lengthOfWord(site, index)));
};

/** The centre from the written radius, on either side of the way from start to end. */
const fromWrittenRadius = (site: ArcSite): Candidate[] => {
  if (site.arc.byRadius || !isKnown(endOf(site))) return [];
  const side = ['left', 'right'];
  return centresThrough(startOf(site), endOf(site), writtenRadius(site)).map((centre, place) =>
    computed('centre', `radius ${side[place]}`, 'work the centre out from its radius', centreEdits(site, centre)),
  );
};

/** One centre word kept, the other one worked out. */
const oneWordKept = (site: ArcSite): Candidate[] => {
  if (site.arc.byRadius || !isKnown(endOf(site))) return [];
  return AXES.flatMap((kept) => {
    const solved = kept === 0 ? 1 : 0;
    const given: PlanePoint = [site.arc.centreFirst, site.arc.centreSecond];
    const centre = centreOnBisector(startOf(site), endOf(site), kept, given[kept]);
    if (centre === undefined || !isKnown(centre)) return [];
    return [{ ...computed('centre', '', '', centreEdits(site, centre, [solved])), isGuess: true }];
  });
};

/** The circles that join the cut before or behind smoothly. */
const smoothCircles = (site: ArcSite): { circle: Circle; joins: 'before' | 'behind' }[] => {
  const { arc, asWritten } = site;
  const found: { circle: Circle; joins: 'before' | 'behind' }[] = [];
  if (!isKnown(endOf(site))) return found;
  const before: PlanePoint = [arc.tangentFirst, arc.tangentSecond];
  const setsOff = isKnown(before) ? circleSettingOff(startOf(site), endOf(site), before, arc.clockwise) : undefined;
  if (setsOff !== undefined) found.push({ circle: setsOff, joins: 'before' });
  const arrives = isKnown(asWritten.behind)
    ? circleArriving(startOf(site), endOf(site), asWritten.behind, arc.clockwise)
    : undefined;
  if (arrives !== undefined) found.push({ circle: arrives, joins: 'behind' });
  return found;
};

/** A centre on the normal to the cut before, or behind. */
const smoothCentres = (site: ArcSite): Candidate[] =>
  site.arc.byRadius
    ? []
    : smoothCircles(site).map(({ circle, joins }) =>
        computed('centre', `smooth ${joins}`, `join the cut ${joins} smoothly`, centreEdits(site, circle.centre)),
      );

/** A full circle by R: its centre on the side that the cut before leads to, or on either side along each axis. */
const fullCircle = (site: ArcSite): Candidate[] => {
  const { arc } = site;
  const radius = Math.abs(arc.programmedRadius);
  if (!arc.byRadius || !(radius > 0) || !(apart(startOf(site), endOf(site)) < 1e-6)) return [];
  const before: PlanePoint = [arc.tangentFirst, arc.tangentSecond];
  const ways: PlanePoint[] = isKnown(before)
    ? [towardCentre(before, arc.clockwise)]
    : [
        [1, 0],
        [-1, 0],
        [0, 1],
        [0, -1],
      ];
  return ways.map(([first, second], place) => {
    const centre: PlanePoint = [arc.startFirst + first * radius, arc.startSecond + second * radius];
    const toward = isKnown(before) ? 'smooth' : place;
    return computed('centre', `full ${toward}`, 'give the centre of the full circle', centreEdits(site, centre));
  });
};

const CENTRE_WAYS = [fromWrittenRadius, oneWordKept, smoothCentres, fullCircle];

/** Another R, or R where neither R nor a centre is written: the least that reaches, and those that join a neighbour smoothly. */
const radii = (site: ArcSite): Candidate[] => {
  const { arc } = site;
  const hasCentre = arc.wordI >= 0 || arc.wordJ >= 0 || arc.wordK >= 0;
  const chord = apart(startOf(site), endOf(site));
  if ((hasCentre && !arc.byRadius) || !(chord > 1e-6)) return [];
  const place = site.unit / 10 ** site.style.places;
  const fits = (radius: number, alike: string, alikeTitle: string): Candidate => {
    // Points are rounded, so R comes out a little beside the number that was meant.
    const short = Math.round(radius / place / 10) * place * 10;
    const isShort = Math.abs(short - radius) < 1.6 * place && Math.abs(short) >= chord / 2;
    const text = lengthWord(site, RADIUS, isShort ? short : radius);
    const edit = arc.radiusWord >= 0 ? editWord(site, arc.radiusWord, text) : behind(site, lastOfArc(site), text);
    return computed('radius', alike, alikeTitle, [edit]);
  };
  // The least as it is written: what rounding takes away, the control's tolerance gives back.
  const least = Math.round(chord / 2 / place) * place;
  const smooth = smoothCircles(site).map(({ circle, joins }) => {
    const isLarge = turnAbout(startOf(site), endOf(site), circle.centre, arc.clockwise) > Math.PI + 1e-6;
    return fits(isLarge ? -circle.radius : circle.radius, `R ${joins}`, `the R that joins the cut ${joins} smoothly`);
  });
  return [fits(least, 'R least', 'the least R that reaches'), ...smooth];
};

const RADIUS = 'R'.charCodeAt(0) - 65;

/** Candidates that read what stands there otherwise: another letter, the other sign, two digits exchanged, a word too many. */
import { type Candidate, canRetype, editWord, isNonZero, otherSign, relettered, without } from './candidate.ts';
import { CENTRE_LETTERS, nameOf } from './letters.ts';
import { type ArcSite, wordOf } from './site.ts';
import type { LineEdit } from './trial.ts';
import { writing } from './wordOrder.ts';

/** `alike` of a candidate that turns the sign of centre words, whichever they are. */
export const CENTRE_SIGN = 'sign centre';

/** All of them. */
export const retypedCandidates = (site: ArcSite): Candidate[] => [
  ...letters(site),
  ...signs(site),
  ...digits(site),
  ...superfluous(site),
];

const retyped = (
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
  isRetyped: true,
});

/** Words under the letters of the plane. */
const letters = (site: ArcSite): Candidate[] => {
  const { arc } = site;
  const centres = [arc.firstCentre, arc.secondCentre];
  const axes = [arc.firstAxis, arc.secondAxis];
  const off = CENTRE_LETTERS.filter((letter) => !centres.includes(letter));
  return [
    ...renamed(site, off, centres),
    ...renamed(site, centres, centres),
    ...renamed(site, [arc.thirdAxis], axes),
    ...exchanged(site, centres[0], centres[1]),
    // Where a letter of the plane is free, the word goes there.
    ...(centres.every((letter) => site.block.has(letter))
      ? centres.flatMap((letter) => exchanged(site, off[0], letter))
      : []),
    ...axes.flatMap((letter) => exchanged(site, arc.thirdAxis, letter)),
  ];
};

/** Words with letters `from` under those of `to` that are free. */
const renamed = (site: ArcSite, from: readonly number[], to: readonly number[]): Candidate[] => {
  const { block } = site;
  const candidates: Candidate[] = [];
  for (const letter of from) {
    const index = wordOf(site, letter);
    if (index < 0) continue;
    for (const free of to) {
      if (block.has(free)) continue;
      const text = relettered(block, index, free);
      const [was, is] = [nameOf(letter), nameOf(free)];
      candidates.push(
        retyped('letter', `letter ${was} ${is}`, `write ${is} for ${was}`, [editWord(site, index, text)]),
      );
    }
  }
  return candidates;
};

/** Two words with their letters exchanged. */
const exchanged = (site: ArcSite, one: number, other: number): Candidate[] => {
  const { block } = site;
  const a = wordOf(site, one);
  const b = wordOf(site, other);
  if (a < 0 || b < 0) return [];
  const edits = [editWord(site, a, relettered(block, a, other)), editWord(site, b, relettered(block, b, one))];
  const [was, is] = [nameOf(one), nameOf(other)].sort();
  return [retyped('letter', `letters ${was} ${is}`, `exchange ${was} and ${is}`, edits)];
};

/** The other sign: one centre word, both, or a word of the end point. */
const signs = (site: ArcSite): Candidate[] => {
  const { arc } = site;
  const sets = [
    [arc.firstCentre],
    [arc.secondCentre],
    [arc.firstCentre, arc.secondCentre],
    [arc.firstAxis],
    [arc.secondAxis],
  ];
  return sets.flatMap((set) => {
    const words = set.map((letter) => wordOf(site, letter));
    if (!words.every((index) => canRetype(site.block, index) && isNonZero(site, index))) return [];
    const edits = words.map((index) => editWord(site, index, otherSign(site.block, index)));
    const names = set.map(nameOf).sort();
    const alikeTitle = `turn the sign of ${names.join(' and ')}`;
    const isOfCentre = CENTRE_LETTERS.includes(set[0]);
    return [retyped('sign', isOfCentre ? CENTRE_SIGN : `sign ${names.join(' ')}`, alikeTitle, edits)];
  });
};

/** Two digits beside each other exchanged, in any length of the arc. */
const digits = (site: ArcSite): Candidate[] => {
  const { arc, block } = site;
  const words = [arc.firstAxis, arc.secondAxis, ...CENTRE_LETTERS].map((letter) => wordOf(site, letter));
  const candidates: Candidate[] = [];
  for (const index of [...words, arc.radiusWord]) {
    if (!canRetype(block, index)) continue;
    const text = block.wordText(index);
    for (let place = 1; place + 1 < text.length; place++) {
      const [one, other] = [text[place], text[place + 1]];
      if (one === other || !/\d/.test(one) || !/\d/.test(other)) continue;
      const changed = text.slice(0, place) + other + one + text.slice(place + 2);
      if (/^.\s*[-+]?0\d/.test(changed) && !/^.\s*[-+]?0\d/.test(text)) continue;
      candidates.push(retyped('digits', '', '', [editWord(site, index, changed)]));
    }
  }
  return candidates;
};

/** A word that is one too many: a centre word off the plane, R beside centre words, centre words beside R. */
const superfluous = (site: ArcSite): Candidate[] => {
  const { arc, block } = site;
  const candidates: Candidate[] = [];
  const centres = CENTRE_LETTERS.map((letter) => wordOf(site, letter)).filter((index) => index >= 0);
  const take = (does: string, words: readonly number[], alike: string, alikeTitle: string): void => {
    const edits = words.map((index) => without(site, index));
    candidates.push({ family: 'superfluous', alike, alikeTitle, does, edits, isRetyped: false });
  };
  for (const letter of CENTRE_LETTERS) {
    const index = wordOf(site, letter);
    if (index < 0 || letter === arc.firstCentre || letter === arc.secondCentre) continue;
    const name = nameOf(letter);
    take(`Take ${block.wordText(index)} out`, [index], `without ${name}`, `take ${name} out`);
  }
  if (arc.radiusWord >= 0 && centres.length > 0) {
    take('Keep R, take the centre words out', centres, 'radius kept', 'keep R, take the centre words out');
    take('Keep the centre, take R out', [arc.radiusWord], 'centre kept', 'keep the centre words, take R out');
  }
  return candidates;
};

/**
 * The words that a code takes, in the order that they are written, with what each means. Source: ISO 6983-1 and the report
 * NIST IR 6556 (from memory); what controls do differently comes from the profile.
 */
import { planeOf } from '../machine/planes.ts';
import type { ControlProfile } from '../machine/profile.ts';

/** One word of a code. */
export interface CodeWord {
  readonly letter: string;
  readonly meaning: string;
  /** The code does not run without it, or not as anybody wants it. */
  readonly isNeeded: boolean;
}

const needed = (letter: string, meaning: string): CodeWord => ({ letter, meaning, isNeeded: true });
const free = (letter: string, meaning: string): CodeWord => ({ letter, meaning, isNeeded: false });

/** Cycles that peck, that wait, that move aside, and that follow the spindle; G number × 10. */
const PECKING: readonly number[] = [730, 830];
const WAITING: readonly number[] = [820, 860, 880, 890];
const TAPPING: readonly number[] = [740, 840];

/** True for the codes of canned cycles, G number × 10. */
export const isCycle = (code: number): boolean =>
  [730, 740, 760].includes(code) || (code >= 810 && code <= 890 && code % 10 === 0);

/** True for a cycle that taps. */
export const isTapping = (code: number): boolean => TAPPING.includes(code);

/** The words of a cycle or an arc (G number × 10) under a profile and a plane (17, 18, 19); undefined for other codes. */
export const wordsOfCode = (profile: ControlProfile, code: number, plane: number): readonly CodeWord[] | undefined => {
  if (isCycle(code)) return cycleWords(profile, code, plane);
  if (code === 20 || code === 30) return arcWords(profile, plane);
  return undefined;
};

const cycleWords = (profile: ControlProfile, code: number, plane: number): CodeWord[] => {
  const { first, second, third } = planeOf(plane);
  const [across, along] = [first, second].sort((a, b) => a - b);
  const isBackBore = code === 870 && profile.cycle87 === 'back-boring';
  const words = [
    free('XYZ'[across], `${'XYZ'[across]} of the hole`),
    free('XYZ'[along], `${'XYZ'[along]} of the hole`),
    needed('XYZ'[third], 'bottom of the hole; in G91 from R'),
    needed('R', 'level where feeding begins; in G91 from where the tool stands'),
    ...ownWords(profile, code),
  ];
  if (isBackBore || code === 760) {
    words.push(free('IJK'[across], `way off the wall in ${'XYZ'[across]}`));
    words.push(free('IJK'[along], `way off the wall in ${'XYZ'[along]}`));
  }
  if (isBackBore) words.push(needed('IJK'[third], 'upper end of the back bore'));
  words.push(isTapping(code) ? needed('F', 'feed: pitch × speed, under G95 the pitch') : free('F', 'feed'));
  const letters = profile.repeats === 'both' ? ['L'] : [profile.repeats];
  return [...words, ...letters.map((letter) => free(letter, 'how many times; under G91 each one step on'))];
};

const ownWords = (profile: ControlProfile, code: number): CodeWord[] => {
  const dwell = `wait at the bottom in ${profile.dwell === 'milliseconds' ? 'milliseconds' : 'seconds'}`;
  if (PECKING.includes(code)) return [needed('Q', 'depth of a peck')];
  if (WAITING.includes(code))
    return [{ ...needed('P', dwell), isNeeded: code === 820 || code === 890 || profile.cyclesAreMotion }];
  if (code === 760) return [free('Q', 'way off the wall'), free('P', dwell)];
  return isTapping(code) ? [free('P', dwell)] : [];
};

const arcWords = (profile: ControlProfile, plane: number): CodeWord[] => {
  const { first, second, third } = planeOf(plane);
  const [across, along] = [first, second].sort((a, b) => a - b);
  const name = (axis: number): string => 'XYZ'[axis];
  const turns = profile.turns.counts === 'turns' ? 'turns in all, a part turn counted as one' : 'turns more';
  return [
    free(name(across), `${name(across)} of the end`),
    free(name(along), `${name(along)} of the end`),
    free('IJK'[across], `centre in ${name(across)}, from the start (G90.1: from zero)`),
    free('IJK'[along], `centre in ${name(along)}, from the start (G90.1: from zero)`),
    free('R', 'radius in the place of the centre; minus: the arc of more than half a turn'),
    free(name(third), `${name(third)} of the end: makes a helix of it`),
    ...(profile.turns.letter === 'none' ? [] : [free(profile.turns.letter, turns)]),
    free('F', 'feed along the path'),
  ];
};

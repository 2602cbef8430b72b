/** Numbers and names of taps in the words of messages. */
import { Mode, type ModePool } from '../../machine/modes.ts';
import type { ProgramFacts } from '../facts.ts';
import { lineWords, wantedWord } from './lineWords.ts';
import { wordNumber } from './numbers.ts';
import { type TapFeed, tapFeedUnder } from './tapFeed.ts';
import type { Tap } from './tapInSpindle.ts';
import type { TapPass, TapStroke } from './threadWork.ts';

/** S × P (× `factor`) as F is written: rounded down, so that the tap is never pushed. `unit` is mm a unit. */
export const feedForPitch = (feed: Pick<TapFeed, 'turns'>, pitch: number, unit: number, factor = 1): string => {
  const exact = (pitch * feed.turns * factor) / unit;
  const places = feed.turns === 1 ? 5 : 3;
  const scale = 10 ** places;
  return wordNumber(Math.floor(exact * scale + 1e-6) / scale, places);
};

/** The feed of a way of a tap. */
export const feedOfPass = (facts: ProgramFacts, { way }: TapStroke, pass: TapPass): TapFeed | undefined =>
  tapFeedUnder((field) => facts.pool.at(pass.modes, field), way, facts.configuration.machine);

/** How a message calls the tap's thread: `M6X1`, `M8X1.25 LH`, `a tap`. */
export const threadName = (tap: Tap | undefined): string => {
  if (tap?.thread === undefined) return 'a tap';
  return tap.hand === 'left' ? `${tap.thread.name} LH` : tap.thread.name;
};

/** Where the tap and its holder are known from. */
export const holderSource = (tap: Tap): string =>
  tap.isHolderAssumed ? `${tap.source}, holder assumed in blockwright.json` : tap.source;

/** The words that a stroke's way in is reported at: its cycle code, else all words. */
export const strokeWords = ({ cycle }: TapStroke): readonly string[] => (cycle > 0 ? [`G${cycle / 10}`] : []);

/** Millimetres a unit under a pass. */
export const unitOfPass = (pool: ModePool, { modes }: TapPass): number =>
  pool.at(modes, Mode.units) === 20 ? 25.4 : 1;

/**
 * True where the block of a cycle's hole names the cycle (or one of the `other` words), and not one before it (called with
 * L0, or F and S alone in a block). True as well for a hole of another file: its own block is judged there.
 */
export const callsItself = (facts: ProgramFacts, stroke: TapStroke, ...other: readonly string[]): boolean => {
  const words = lineWords(facts, stroke.in.line);
  const has = (word: string): boolean => wantedWord(words, word) >= 0;
  return [`G${stroke.cycle / 10}`, ...other].some(has) || !['X', 'Y', 'Z', 'A', 'B', 'C'].some(has);
};

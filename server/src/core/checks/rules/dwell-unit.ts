import { dwellSeconds } from '../../machine/feed.ts';
import { Mode } from '../../machine/modes.ts';
import type { Fix, RuleContext } from '../rule.ts';
import { cycleName } from '../support/cycleWords.ts';
import { defineRule } from '../support/gradedRule.ts';
import { shortNumber, wordNumber } from '../support/numbers.ts';
import { findCode, findWord, isPlain, numberChanged } from '../support/words.ts';

/** Cycles that wait at the bottom (G number × 10). */
const WAITING = [740, 760, 820, 840, 860, 870, 880, 890];
/** A wait at the bottom of a hole is never as long, s; common practice, no source. */
const LONGEST_IN_CYCLE = 20;
/** A wait of its own is never as long, s: half an hour of warming up is written in steps. */
const LONGEST = 1000;
/** From here on a whole number of seconds that is no number of minutes is one of milliseconds. */
const LONG = 100;
/** A number below this is none of milliseconds. */
const LEAST_MILLISECONDS = 10;

/** A wait that was written in another unit than the control counts in. */
export const dwellUnit = defineRule({
  code: 'dwell-unit',
  severity: 'warning',
  reason: 'A wait a thousand times too long stands still in the cut, and one a thousand times too short does nothing.',
  messages: {
    long: '{word} of {code} waits {time}: it is read in seconds. Write {letter}{right} if {shorter} s were meant.',
    short:
      '{word} of {code} waits only {seconds} s: it is read in milliseconds. Write {letter}{right} if {longer} s were meant.',
  },
  codes(context) {
    if (context.block.codeCount === 0 || findCode(context.block, [40]) < 0) return;
    const pause = findWord(context.block, 'P');
    judge(context, pause >= 0 ? pause : findWord(context.block, 'X'), 'G4');
  },
  cycle(context) {
    if (!WAITING.includes(context.modes[Mode.cycle])) return;
    judge(context, findWord(context.block, 'P'), cycleName(context));
  },
});

const judge = (context: RuleContext, word: number, code: string): void => {
  const { block, profile } = context;
  if (word < 0 || !isPlain(block, word)) return;
  const value = block.values[word];
  const seconds = dwellSeconds(context, word);
  const values = { word: block.wordText(word), letter: String.fromCharCode(65 + block.letters[word]), code, seconds };
  const report = (message: string, right: string, data: Readonly<Record<string, string | number>>): void => {
    const fixes: Fix[] = [context.replace(`Write ${values.letter}${right}`, false, numberChanged(block, word, right))];
    context.report(message, block.starts[word], block.ends[word], { ...values, right, ...data }, fixes);
  };
  if (seconds === value) {
    if (!isTooLong(context, word, code)) return;
    report('long', wordNumber(value / 1000), { time: duration(seconds), shorter: value / 1000 });
  } else if (profile.dwell === 'milliseconds' && value > 0 && value < LEAST_MILLISECONDS) {
    report('short', shortNumber(value * 1000), { longer: value });
  }
};

/** True for seconds that only make sense as milliseconds. */
const isTooLong = ({ block }: RuleContext, word: number, code: string): boolean => {
  const value = block.values[word];
  if (code !== 'G4') return value >= LONGEST_IN_CYCLE;
  const isMinutes = value % 60 === 0 || block.decimals[word] > 0 || block.wordText(word).includes('.');
  return value >= LONGEST || (value >= LONG && !isMinutes);
};

const duration = (seconds: number): string =>
  seconds < 120 ? `${shortNumber(seconds, 1)} s` : `${shortNumber(seconds / 60, 1)} min`;

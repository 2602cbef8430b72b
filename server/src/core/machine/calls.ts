/**
 * Calls and returns as a block says them: M98 P L, M99, M99 P, M17, G65/G66/G67 with their arguments, and the call of a
 * sequence number where the control has a code for it. Who runs the program carries them out.
 */
import { type Block, letterIndex, WordFlag } from '../syntax/block.ts';
import type { Executor } from './executor.ts';
import { G, L, M, P } from './letters.ts';
import { Mode } from './modes.ts';

/** What a block asks for when its own work is done. */
export type Ending =
  | {
      readonly kind: 'call';
      /** Program number, or sequence number of this program. */
      readonly number: number;
      readonly isSequenceNumber: boolean;
      readonly repeats: number;
      /** Values by variable number for a macro call, which gets variables #1 to #33 of its own; undefined for M98. */
      readonly values: ReadonlyMap<number, number> | undefined;
    }
  /** The program raises an alarm of its own and stops. */
  | { readonly kind: 'alarm'; readonly number: number; readonly text: string }
  /** Back to the caller: behind the call, or at its sequence number `target` (NaN none). */
  | { readonly kind: 'return'; readonly target: number };

/** The variable that each letter of a macro call fills, by place in the alphabet; 0 none (G L N O P). Common practice, no source. */
const VARIABLE_OF_LETTER = [1, 2, 3, 7, 8, 9, 0, 11, 4, 5, 6, 0, 13, 0, 0, 0, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26];
/** Variables that belong to one level of macro calls. */
export const LOCAL_VARIABLES = 33;
/** Set in the variables once the run took a way of two that hangs on a value which is not known. */
export const UNKNOWN_WAY = 'way unknown';
/** Setting it raises an alarm. */
const ALARM_VARIABLE = 3000;
const I = letterIndex('I');
const K = letterIndex('K');
/** Key of an argument of the macro that G66 calls after each move, kept among the variables. */
const modalKey = (variable: number): string => `modal ${variable}`;

/** Index of the block's G65 or G66, −1 none. */
export const macroCallWord = (block: Block): number => {
  for (let i = 0; i < block.wordCount; i++) {
    if (block.letters[i] === G && (block.values[i] === 65 || block.values[i] === 66)) return i;
  }
  return -1;
};

/**
 * The words of a macro call that are arguments, each with the variable that it fills (0 none). Several sets of I J K fill
 * #4 #5 #6, #7 #8 #9 and so on.
 */
export const argumentWords = (block: Block): { readonly word: number; readonly variable: number }[] => {
  const found: { word: number; variable: number }[] = [];
  const sets = [0, 0, 0];
  for (let word = 0; word < block.wordCount; word++) {
    const letter = block.letters[word];
    if (letter === G || letter === L || letter === P || (block.flags[word] & WordFlag.empty) !== 0) continue;
    let variable = VARIABLE_OF_LETTER[letter];
    if (letter >= I && letter <= K) variable += 3 * sets[letter - I]++;
    found.push({ word, variable: variable <= LOCAL_VARIABLES ? variable : 0 });
  }
  return found;
};

/** Takes the arguments out of a macro call: the words count as not written from then on. */
export const takeArguments = (block: Block): Map<number, number> => {
  const values = new Map<number, number>();
  for (const { word, variable } of argumentWords(block)) {
    const letter = block.letters[word];
    if (variable > 0) values.set(variable, block.values[word]);
    block.flags[word] |= WordFlag.empty;
    if (letter === M) block.codeCount--;
    block.present &= ~(1 << letter);
  }
  return values;
};

/** The program number that a block's M98, G65 or G66 calls, as written; NaN where it calls none or computes it. */
export const writtenCall = (block: Block): number => {
  if (block.codeCount === 0) return Number.NaN;
  let calls = macroCallWord(block) >= 0;
  for (let i = 0; i < block.wordCount; i++) calls ||= block.letters[i] === M && block.values[i] === 98;
  return calls ? whole(block, P, Number.NaN) : Number.NaN;
};

const firstRemark = ({ source, remarks }: Block): string =>
  remarks.length < 2 ? '' : source.slice(remarks[0], remarks[1]).trim();

/** A value given to #3000 on macro controls: the program raises an alarm of its own. Common practice, no source. */
export const raiseAlarm = (executor: Executor): void => {
  const { block, variables } = executor;
  const number = variables.own(ALARM_VARIABLE);
  if (number === undefined) return;
  variables.set(ALARM_VARIABLE, undefined);
  const isHere = /#\s*3\s*0\s*0\s*0\s*=/.test(block.source.slice(block.start, block.end));
  if (!isHere || Number.isNaN(number)) return;
  // Whether the run comes here at all is not known then: the rest of the program is worth more.
  if (variables.own(UNKNOWN_WAY) !== undefined) executor.listener.notExecuted('alarm-passed', block.start, block.end);
  else executor.ending = { kind: 'alarm', number, text: firstRemark(block) };
};

const whole = (block: Block, letter: number, otherwise: number): number => {
  const value = block.value(letter);
  return Number.isNaN(value) ? otherwise : Math.floor(value);
};

/** Reads the call's own words and takes them out of the block, so that no cycle or arc reads them. */
const takeCallWords = (executor: Executor): { number: number; repeats: number } => {
  const { block, profile } = executor;
  let number = whole(block, P, Number.NaN);
  let repeats = Math.max(0, whole(block, L, 1));
  if (profile.subprogramRepeats === 'first-digits' && !block.has(L) && number > 9999) {
    repeats = Math.floor(number / 10_000);
    number %= 10_000;
  }
  block.present &= ~((1 << P) | (1 << L));
  return { number, repeats };
};

/** M98, or the control's own code for a call of a sequence number. */
export const subprogramCall = (executor: Executor, isSequenceNumber: boolean): void => {
  executor.ending = { kind: 'call', isSequenceNumber, values: undefined, ...takeCallWords(executor) };
};

/** M99 and M17. In the program itself they end it, like M30; with P they go on at a sequence number. */
export const subprogramReturn = (executor: Executor): void => {
  const target = whole(executor.block, P, Number.NaN);
  executor.block.present &= ~(1 << P);
  if (!executor.inCall && Number.isNaN(target)) executor.afterMotion.push(30);
  else executor.ending = { kind: 'return', target };
};

/** G65 calls once, G66 after every move that follows, G67 ends G66. */
export const macroCall = (executor: Executor, code: number): void => {
  if (code === 670) {
    executor.set(Mode.modalMacro, -1);
    return;
  }
  const values = executor.macroValues;
  const call = takeCallWords(executor);
  if (code === 650) {
    executor.ending = { kind: 'call', isSequenceNumber: false, values, ...call };
    return;
  }
  executor.set(Mode.modalMacro, Number.isNaN(call.number) ? -1 : call.number);
  for (let variable = 1; variable <= LOCAL_VARIABLES; variable++) {
    executor.variables.set(modalKey(variable), values.get(variable));
  }
};

/** The call that G66 makes after a block with a move. */
export const modalCall = (executor: Executor): void => {
  const values = new Map<number, number>();
  for (let variable = 1; variable <= LOCAL_VARIABLES; variable++) {
    const value = executor.variables.get(modalKey(variable));
    if (value !== undefined) values.set(variable, value);
  }
  const number = executor.modes[Mode.modalMacro];
  executor.ending = { kind: 'call', number, isSequenceNumber: false, repeats: 1, values };
};

/** The words of a call: the program, how often, and for a macro the values that it reads. */
import type { Analysis } from '../checks/analysis.ts';
import { argumentWords } from '../machine/calls.ts';
import { Block } from '../syntax/block.ts';
import { BlockReader } from '../syntax/reader.ts';
import type { CompletionPlace } from './completionPlace.ts';
import type { CodeWord } from './signatureWords.ts';

/** More lines of a called program are not looked through. */
const MOST_LINES = 5000;
/** A text of more lines that calls nothing so far is not looked through for programs. */
const MOST_STRAIGHT = 100_000;

/** Letters that may give a value; G L N O P have other meanings. */
const ARGUMENTS = 'ABCDEFHIJKMQRSTUVWXYZ';

/** Words of M98, G65 or G66 in the block. `isMacro`: values are given. */
export const wordsOfCall = (place: CompletionPlace, isMacro: boolean): readonly CodeWord[] => {
  const { profile } = place.configuration;
  const inDigits = profile.subprogramRepeats === 'first-digits';
  const program = inDigits ? 'program number; more than four digits: the first ones say how often' : 'program number';
  const words: CodeWord[] = [
    { letter: 'P', meaning: program, isNeeded: true },
    { letter: 'L', meaning: 'how many times', isNeeded: false },
  ];
  return isMacro ? [...words, ...argumentsOf(place)] : words;
};

/** The letters whose variables the called program reads; where it is not known, all that give one. */
const argumentsOf = (place: CompletionPlace): CodeWord[] => {
  const number = Math.floor(place.block.value(15));
  const lines = Number.isNaN(number) ? undefined : linesOfProgram(place.analysis, number);
  const text = lines?.join('\n');
  const reads = text === undefined ? undefined : readIn(text);
  return lettersOfVariables(place)
    .filter(({ variable }) => reads === undefined || reads.has(variable))
    .map(({ letter, variable }) => {
      const told = text === undefined ? '' : toldOf(text, variable);
      return { letter, meaning: `#${variable} of the program${told === '' ? '' : `: ${told}`}`, isNeeded: false };
    });
};

/** Every letter that gives a variable, in the order of the alphabet; of I J K the first set. */
const lettersOfVariables = ({ configuration }: CompletionPlace): { letter: string; variable: number }[] => {
  const block = new Block();
  const text = Array.from(ARGUMENTS, (letter) => `${letter}[1]`).join('');
  new BlockReader(configuration.profile).read(text, 0, text.length, block, undefined);
  return argumentWords(block)
    .filter(({ variable }) => variable > 0)
    .map(({ word, variable }) => ({ letter: String.fromCharCode(65 + block.letters[word]), variable }));
};

const linesOfProgram = (analysis: Analysis, number: number): readonly string[] | undefined => {
  if (analysis.runsStraight && analysis.lineCount > MOST_STRAIGHT) return undefined;
  const unit = analysis.layout.unitOfNumber(number);
  if (unit === undefined) {
    return analysis
      .programFacts()
      .fileOfProgram(number)
      ?.split(/\r\n|\r|\n/)
      .slice(0, MOST_LINES);
  }
  const count = Math.min(unit.endLine - unit.firstLine, MOST_LINES);
  return Array.from({ length: count }, (_, i) => analysis.lineText(unit.firstLine + i));
};

/** Variables that are read outside remarks; undefined where numbers are computed. */
const readIn = (text: string): ReadonlySet<number> | undefined => {
  const words = text.replace(/\([^)\n]*\)?|;[^\n]*/g, '').replace(/[ \t]+/g, '');
  if (/#[[#]/.test(words)) return undefined;
  return new Set(Array.from(words.matchAll(/#(\d+)(?!\d|=(?!=))/g), ([, number]) => Number(number)));
};

/** What a remark of the program says of a variable: `(#24 = X OF THE FIRST HOLE)`. */
const toldOf = (text: string, variable: number): string =>
  new RegExp(`[(;,][^()\\n]*?#${variable}(?!\\d)\\s*[=:-]?\\s*([^()#,;\\n]{2,60})`).exec(text)?.[1].trim() ?? '';

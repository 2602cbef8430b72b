/** What sets each mode: the letter or the codes, and how to tell the word that did it. */
import { macroCallWord } from '../machine/calls.ts';
import { codeTable, Group, UNKNOWN_GROUP } from '../machine/codes.ts';
import type { ControlProfile } from '../machine/profile.ts';
import { type Block, letterIndex, WordFlag } from '../syntax/block.ts';
import type { ChunkDigest } from './modeOriginDigest.ts';
import type { TokenSpan } from './referencesTokens.ts';

/** Something that blocks set, and how to find the word that sets it. */
export interface OriginFinder {
  mayHold(digest: ChunkDigest): boolean;
  /** The word of a block that sets it; undefined where none does. */
  find(block: Block): TokenSpan | undefined;
  /** Where the arguments of a macro call set it, seen from inside the macro; left out for what runs on through calls. */
  findInCall?(block: Block): TokenSpan | undefined;
  /** False for lines that cannot set it wherever they stand in the run; left out for all. */
  isWithin?(line: number): boolean;
}

/** Modes whose place can be asked for. */
export type OriginMode =
  | 'motion'
  | 'cycle'
  | 'feed'
  | 'speed'
  | 'tool'
  | 'offset'
  | 'plane'
  | 'distance'
  | 'units'
  | 'feedMode'
  | 'speedMode'
  | 'arcDistance'
  | 'radiusCompensation'
  | 'radiusRegister'
  | 'lengthCompensation'
  | 'lengthRegister'
  | 'retract'
  | 'pathControl'
  | 'scaling'
  | 'rotation'
  | 'polar'
  | 'spindle'
  | 'coolant'
  | 'toolCalled';

const G = letterIndex('G');
const M = letterIndex('M');
const T = letterIndex('T');

const LETTERS: Readonly<Partial<Record<OriginMode, number>>> = {
  feed: letterIndex('F'),
  speed: letterIndex('S'),
  radiusRegister: letterIndex('D'),
  lengthRegister: letterIndex('H'),
  toolCalled: T,
};

const G_GROUPS: Readonly<Partial<Record<OriginMode, readonly number[]>>> = {
  motion: [Group.motion],
  cycle: [Group.cycle],
  offset: [Group.offset],
  plane: [Group.plane],
  distance: [Group.distance],
  units: [Group.units],
  feedMode: [Group.feedMode],
  speedMode: [Group.speedMode],
  arcDistance: [Group.arcDistance],
  radiusCompensation: [Group.radiusCompensation],
  lengthCompensation: [Group.lengthCompensation],
  retract: [Group.retract],
  pathControl: [Group.pathControl],
  scaling: [Group.scaling],
  rotation: [Group.rotation],
  polar: [Group.polar],
};

const M_GROUPS: Readonly<Partial<Record<OriginMode, number>>> = { spindle: Group.spindle, coolant: Group.coolant };

/** Columns of a word. */
export const spanOfWord = (block: Block, word: number): TokenSpan => ({
  column: block.starts[word] - block.start,
  endColumn: block.ends[word] - block.start,
});

const isUsable = (block: Block, word: number): boolean => (block.flags[word] & (WordFlag.bad | WordFlag.empty)) === 0;

/** The last word that fits: of two it is the one that holds. */
const lastWord = (block: Block, fits: (word: number) => boolean): TokenSpan | undefined => {
  for (let word = block.wordCount - 1; word >= 0; word--) {
    if (isUsable(block, word) && fits(word)) return spanOfWord(block, word);
  }
  return undefined;
};

/** The finder of a letter's value; words of a macro call are its arguments. */
const letterFinder = (letter: number): OriginFinder => ({
  mayHold: (digest) => digest.hasLetter(letter),
  find: (block) => (macroCallWord(block) >= 0 ? undefined : lastWord(block, (word) => block.letters[word] === letter)),
});

/** F of a block that cuts a thread is its lead, by profile. */
const feedFinder = (letter: number, { leadWord }: ControlProfile): OriginFinder => {
  const finder = letterFinder(letter);
  const thread = codeFinder(G, [330]);
  const isLead = (block: Block): boolean => leadWord === 'F' && thread.find(block) !== undefined;
  return { ...finder, find: (block) => (isLead(block) ? undefined : finder.find(block)) };
};

/** The finder of codes by number (G × 10). */
const codeFinder = (letter: number, codes: readonly number[]): OriginFinder => {
  const known = new Set(codes);
  const whole = letter === G ? [...new Set(codes.map((code) => Math.floor(code / 10)))] : codes;
  return {
    mayHold: (digest) => whole.some((code) => (letter === G ? digest.hasG(code) : digest.hasM(code))),
    find: (block) =>
      block.codeCount === 0
        ? undefined
        : lastWord(block, (word) => {
            const value = letter === G ? Math.round(block.values[word] * 10) : block.values[word];
            return block.letters[word] === letter && known.has(value);
          }),
  };
};

/** A tool is changed by M6; the place is the T beside it where there is one. */
const toolFinder = (profile: ControlProfile): OriginFinder => {
  const change = codeFinder(M, [6]);
  return {
    mayHold: change.mayHold,
    find: (block) => {
      const found = change.find(block);
      if (found === undefined || profile.toolChange !== 'same-block') return found;
      return lastWord(block, (word) => block.letters[word] === T) ?? found;
    },
  };
};

/** The finder of a mode under a profile. */
export const modeFinder = (mode: OriginMode, profile: ControlProfile): OriginFinder => {
  if (mode === 'tool') return toolFinder(profile);
  const letter = LETTERS[mode];
  if (mode === 'feed' && letter !== undefined) return feedFinder(letter, profile);
  if (letter !== undefined) return letterFinder(letter);
  const table = codeTable(profile);
  const mGroup = M_GROUPS[mode];
  if (mGroup !== undefined) return codeFinder(M, codesOf(table.m, [mGroup]));
  return codeFinder(G, codesOf(table.g, G_GROUPS[mode] ?? []));
};

const codesOf = (groups: Uint8Array, wanted: readonly number[]): number[] => {
  const codes: number[] = [];
  groups.forEach((group, code) => {
    if (wanted.includes(group)) codes.push(code);
  });
  return codes;
};

/** The mode that a word of a block sets; undefined where it sets none that lasts. */
export const modeOfWord = (block: Block, word: number, profile: ControlProfile): OriginMode | undefined => {
  const letter = block.letters[word];
  const value = block.values[word];
  if (macroCallWord(block) >= 0 && letter !== G) return undefined;
  if (letter === M && value === 6) return 'tool';
  if (letter === T)
    return profile.toolChange === 'same-block' &&
      lastWord(block, (at) => block.letters[at] === M && block.values[at] === 6)
      ? 'tool'
      : 'toolCalled';
  for (const [mode, own] of Object.entries(LETTERS)) if (own === letter) return mode as OriginMode;
  if (letter !== G && letter !== M) return undefined;
  const table = codeTable(profile);
  const code = letter === G ? Math.round(value * 10) : value;
  const group = (letter === G ? table.g[code] : table.m[code]) ?? UNKNOWN_GROUP;
  const isOf = (groups: number | readonly number[] | undefined): boolean =>
    typeof groups === 'number' ? groups === group : groups?.includes(group) === true;
  const all = Object.entries(letter === G ? G_GROUPS : M_GROUPS);
  return all.find(([, groups]) => isOf(groups))?.[0] as OriginMode | undefined;
};

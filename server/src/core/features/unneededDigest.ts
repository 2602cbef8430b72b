/**
 * What a chunk of lines has to do with words that are not needed: variables that are set and read, modes that are given,
 * and what makes a mode uncertain. Kept with the chunk, so that an edit reads one chunk again. Lines count from the chunk's
 * first one.
 */
import { macroCallWord } from '../machine/calls.ts';
import { type CodeTable, codeTable, Group, UNKNOWN_GROUP } from '../machine/codes.ts';
import type { ControlProfile } from '../machine/profile.ts';
import { Block, BlockKind, letterIndex, WordFlag } from '../syntax/block.ts';
import { BlockReader } from '../syntax/reader.ts';
import type { VariableName } from '../syntax/variables.ts';
import type { LineChunk } from '../text/lineChunk.ts';
import { variableTokens } from './referencesTokens.ts';

/** A variable that a line sets. */
export interface SetVariable {
  readonly name: VariableName;
  readonly line: number;
  readonly column: number;
  readonly endColumn: number;
}

/**
 * Something in the order of the program: a tool section begins; what was given is uncertain from here on; the first place of
 * a section is gone to; a mode is given (`key` is what it is a mode of), or is another one now (`value` undefined).
 */
export type ModeEvent =
  | { readonly kind: 'section' | 'unsure' | 'move'; readonly line: number }
  | {
      readonly kind: 'mode';
      readonly line: number;
      readonly key: number;
      readonly value: number | undefined;
      readonly column: number;
      readonly endColumn: number;
    };

/** See the top of the file. */
export interface UnneededDigest {
  readonly sets: readonly SetVariable[];
  readonly reads: ReadonlySet<VariableName>;
  /** A variable is named by a number that is computed: it may be any. */
  readonly readsAny: boolean;
  readonly events: readonly ModeEvent[];
  /** Lines that begin with `/`. */
  readonly deleted: readonly number[];
}

const G = letterIndex('G');
const M = letterIndex('M');
const S = letterIndex('S');
const O_LINE = /^\s*(?:\/\s*\d?\s*)?[O:]\s*\d/i;
/** Lines that say more than where a move goes. */
const TELLING = /[#/MSO:%]|G\s*0*[1-9]\d|GOTO|IF|WH|DO|END/i;
/** Modes whose words may be left out when they are given again. Motion codes, G98 and G99 and feeds are not among them: to write them in every block is a style. */
const LASTING: ReadonlySet<number> = new Set([
  Group.plane,
  Group.distance,
  Group.arcDistance,
  Group.feedMode,
  Group.speedMode,
  Group.units,
  Group.offset,
  Group.pathControl,
]);
/** Codes that change what others come to: G10, G52, G92 and its kin. */
const UNSETTLING: ReadonlySet<number> = new Set([100, 520, 920, 921, 922, 923]);
/** Keys of modes that are no group of G codes. */
const SPEED = 100;
const SPINDLE = 101;
const MIST = 102;
const FLOOD = 103;

const digests = new WeakMap<LineChunk, { readonly profile: ControlProfile; readonly digest: UnneededDigest }>();

/** True if the digest of a chunk is at hand. */
export const hasDigest = (text: LineChunk, profile: ControlProfile): boolean => digests.get(text)?.profile === profile;

/** The digest of a chunk, made once a profile. */
export function unneededDigest(text: LineChunk, profile: ControlProfile): UnneededDigest {
  const known = digests.get(text);
  if (known?.profile === profile) return known.digest;
  const digest = new Reading(text, profile).digest();
  digests.set(text, { profile, digest });
  return digest;
}

class Reading {
  private readonly text: LineChunk;
  private readonly table: CodeTable;
  private readonly profile: ControlProfile;
  private readonly block = new Block();
  private readonly sets: SetVariable[] = [];
  private readonly reads = new Set<VariableName>();
  private readsAny = false;
  private readonly events: ModeEvent[] = [];
  private readonly deleted: number[] = [];
  private hasMoved = false;

  constructor(text: LineChunk, profile: ControlProfile) {
    this.text = text;
    this.profile = profile;
    this.table = codeTable(profile);
  }

  digest(): UnneededDigest {
    const { text, block } = this;
    const reader = new BlockReader(this.profile);
    for (let line = 0; line < text.lineCount; line++) {
      const written = text.lineText(line);
      // Of plain moves only the first behind something else counts.
      if (this.hasMoved && !TELLING.test(written)) continue;
      reader.read(text.source, text.lineStart(line), text.lineEnd(line), block, undefined);
      if (block.kind === BlockKind.tapeMark) continue;
      if (block.deleteLevel > 0) this.deleted.push(line);
      this.readVariables(line);
      if (O_LINE.test(written)) this.add('unsure', line);
      this.readCodes(line);
    }
    const { sets, reads, readsAny, events, deleted } = this;
    return { sets, reads, readsAny, events, deleted };
  }

  private add(kind: 'section' | 'unsure' | 'move', line: number): void {
    this.hasMoved = kind === 'move';
    this.events.push({ kind, line });
  }

  private readVariables(line: number): void {
    const { block } = this;
    if (!block.source.slice(block.start, block.end).includes('#')) return;
    for (const { name, isSet, column, endColumn } of variableTokens(block)) {
      if (name === undefined) this.readsAny = true;
      else if (isSet) this.sets.push({ name, line, column, endColumn });
      else this.reads.add(name);
    }
  }

  private readCodes(line: number): void {
    const { block } = this;
    if (block.flow !== undefined || macroCallWord(block) >= 0) {
      this.add('unsure', line);
      return;
    }
    if (this.hasCode(M, [6])) this.add('section', line);
    const isUnsure = this.isUnsure();
    if (isUnsure) this.add('unsure', line);
    for (let word = 0; word < block.wordCount; word++) {
      if ((block.flags[word] & (WordFlag.bad | WordFlag.empty)) === 0) this.readWord(line, word, isUnsure);
    }
    if (AXES.some((letter) => block.has(letter)) && !this.hasMoved) this.add('move', line);
  }

  /** Calls, returns and stops, behind which a run may begin anew; codes that shift the zero; a block that may be left out. */
  private isUnsure(): boolean {
    const { block } = this;
    for (let word = 0; word < block.wordCount; word++) {
      const value = block.values[word];
      if (block.letters[word] === G && UNSETTLING.has(Math.round(value * 10))) return true;
      if (block.letters[word] !== M) continue;
      const group = this.table.m[value] ?? UNKNOWN_GROUP;
      if (group === Group.call || group === Group.stop || group === UNKNOWN_GROUP) return true;
    }
    return block.deleteLevel > 0;
  }

  private hasCode(letter: number, codes: readonly number[]): boolean {
    const { block } = this;
    for (let i = 0; i < block.wordCount; i++)
      if (block.letters[i] === letter && codes.includes(block.values[i])) return true;
    return false;
  }

  private readWord(line: number, word: number, isUnsure: boolean): void {
    const { block } = this;
    const value = block.values[word];
    const isComputed = (block.flags[word] & WordFlag.computed) !== 0;
    const tell = (key: number, told: number | undefined): void => {
      const [column, endColumn] = [block.starts[word] - block.start, block.ends[word] - block.start];
      const sure = isUnsure || isComputed ? undefined : told;
      this.events.push({ kind: 'mode', line, key, value: sure, column, endColumn });
    };
    if (block.letters[word] === G) this.readG(Math.round(value * 10), tell);
    else if (block.letters[word] === S) this.readSpeed(value, tell);
    else if (block.letters[word] === M) this.readM(value, tell);
  }

  private readG(code: number, tell: (key: number, told: number | undefined) => void): void {
    const group = this.table.g[code] ?? UNKNOWN_GROUP;
    if (!LASTING.has(group)) return;
    // G54.1 has its number in another word.
    tell(group, code === 541 || (code === 540 && this.block.has(letterIndex('P'))) ? undefined : code);
    if (group === Group.speedMode || group === Group.units) tell(SPEED, undefined);
  }

  /** Beside an M code S belongs to it: M3 S1000, or what prepares tapping. */
  private readSpeed(value: number, tell: (key: number, told: number | undefined) => void): void {
    if (this.block.has(M)) tell(SPEED, undefined);
    tell(SPEED, value);
  }

  private readM(code: number, tell: (key: number, told: number | undefined) => void): void {
    if (code === 3 || code === 4) tell(SPINDLE, code);
    else if (code === 5 || code === 19) tell(SPINDLE, undefined);
    else if (code === 7) tell(MIST, 7);
    else if (code === 8) tell(FLOOD, 8);
    else if (code === 9) {
      tell(MIST, undefined);
      tell(FLOOD, undefined);
    }
  }
}

const AXES = [...'XYZABCUVW'].map(letterIndex);

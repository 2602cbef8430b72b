/** What a word of a block means where it stands: by its own code, or by what holds there. */
import { macroCallWord } from '../machine/calls.ts';
import { type CodeTable, Group, UNKNOWN_GROUP } from '../machine/codes.ts';
import { type Plane, planeOf } from '../machine/planes.ts';
import type { ControlProfile } from '../machine/profile.ts';
import { type Block, letterIndex, WordFlag } from '../syntax/block.ts';
import { hasM } from './referencesTokens.ts';

/** Kinds of words, in the order of the protocol's legend. */
export const TOKEN_KINDS = [
  'motion',
  'mode',
  'machineFunction',
  'axis',
  'arcWord',
  'cycleWord',
  'codeWord',
  'feed',
  'speed',
  'tool',
  'argument',
  'variable',
  'sequenceNumber',
  'program',
  'thread',
] as const;

export type TokenKind = (typeof TOKEN_KINDS)[number];

/** Modifiers, in the order of the protocol's legend. */
export const TOKEN_MODIFIERS = ['inherited', 'rapid', 'incremental', 'modification', 'defaultLibrary'] as const;

export type TokenModifier = (typeof TOKEN_MODIFIERS)[number];

/** What holds for a block: G numbers × 10, −1 and 0 none; the modes behind it. */
export interface WordSurroundings {
  readonly motion: number;
  readonly cycle: number;
  readonly plane: number;
  readonly isIncremental: boolean;
}

const G = letterIndex('G');
const M = letterIndex('M');
const H = letterIndex('H');
const D = letterIndex('D');
const AXES = 'XYZABCUVW';
const NONE: readonly TokenModifier[] = [];

/** Tells the words of one block. */
export class BlockWords {
  private readonly block: Block;
  private readonly table: CodeTable;
  private readonly profile: ControlProfile;
  private readonly isMacro: boolean;
  /** The motion or cycle that the block's axis words belong to, and whether the block names it itself. */
  private readonly motion: number;
  private readonly cycle: number;
  private readonly isNamed: boolean;
  /** A code that takes the block's axis words for itself, G number × 10; −1 none. */
  private readonly once: number;
  private readonly plane: Plane;
  private readonly isIncremental: boolean;

  constructor(block: Block, table: CodeTable, profile: ControlProfile, around: WordSurroundings) {
    this.block = block;
    this.table = table;
    this.profile = profile;
    this.isMacro = profile.flow && macroCallWord(block) >= 0;
    const own = this.lastCode((group, code) => code !== 800 && (group === Group.motion || group === Group.cycle));
    const ownPlane = this.lastCode((group) => group === Group.plane);
    const isCycle = own >= 0 && this.isCycle(own);
    this.isNamed = own >= 0;
    this.cycle = own < 0 ? around.cycle : isCycle ? own : 0;
    this.motion = own < 0 ? around.motion : own;
    this.once = this.lastCode((group) => group === Group.once || group === Group.scaling || group === Group.rotation);
    this.plane = planeOf(ownPlane < 0 ? around.plane : ownPlane / 10);
    this.isIncremental = around.isIncremental;
  }

  /** What a word is; undefined where nothing is known of it beyond its letter. */
  kindOf(word: number): TokenKind | undefined {
    const letter = this.block.letters[word];
    if (letter === G) return this.codeKind(word);
    if (letter === M) return this.isCall(word) ? 'program' : 'machineFunction';
    const name = String.fromCharCode(65 + letter);
    if (this.isMacro) return name === 'P' ? 'program' : name === 'L' ? 'codeWord' : 'argument';
    if (AXES.includes(name)) return this.axisKind(name);
    return name === 'F' || name === 'S' || name === 'T' ? LETTERS[name] : this.otherKind(name, letter);
  }

  /** What more there is to tell of a word that is an axis, an arc's or a cycle's. */
  modifiersOf(kind: TokenKind): readonly TokenModifier[] {
    if (kind !== 'axis' && kind !== 'arcWord' && kind !== 'cycleWord') return NONE;
    if (this.once >= 0 && this.once !== 530 && this.once !== 90) return NONE;
    const found: TokenModifier[] = [];
    if (!this.isNamed && (this.motion >= 0 || this.cycle > 0)) found.push('inherited');
    if (kind === 'axis' && this.motion === 0 && this.cycle === 0) found.push('rapid');
    if (kind !== 'arcWord' && this.isIncremental && this.once !== 530) found.push('incremental');
    return found;
  }

  private codeKind(word: number): TokenKind | undefined {
    const group = this.groupOf(word);
    if (group === UNKNOWN_GROUP) return undefined;
    if (group === Group.motion || group === Group.cycle) return 'motion';
    return group === Group.macroCall ? 'program' : 'mode';
  }

  private axisKind(name: string): TokenKind {
    if (this.once === 40) return 'codeWord';
    const isDepth = this.cycle > 0 && this.once < 0 && 'XYZ'.indexOf(name) === this.plane.third;
    return isDepth ? 'cycleWord' : 'axis';
  }

  private otherKind(name: string, letter: number): TokenKind | undefined {
    if (letter === H || letter === D) return this.once === 100 ? 'codeWord' : 'tool';
    if (name === 'P') {
      if (hasM(this.block, 98)) return 'program';
      if (hasM(this.block, 99) || this.hasLocalCall) return 'sequenceNumber';
    }
    if (this.once >= 0 && this.once !== 530 && this.once !== 90) return 'codeWord';
    if (this.cycle > 0) return 'IJKRPQL'.includes(name) ? 'cycleWord' : undefined;
    const isArc = this.motion === 20 || this.motion === 30;
    if (isArc && this.isArcWord(name)) return 'arcWord';
    if (isArc && 'IJK'.includes(name)) return undefined;
    if (this.motion === 330 && name === 'K') return 'feed';
    return 'IJKRPQL'.includes(name) && this.block.codeCount > 0 ? 'codeWord' : undefined;
  }

  /** A centre word of the axis that the plane does not have is no word of the arc. */
  private isArcWord(name: string): boolean {
    if (name === 'R' || name === this.profile.turns.letter) return true;
    return 'IJK'.includes(name) && name.charCodeAt(0) - 73 !== this.plane.third;
  }

  private get hasLocalCall(): boolean {
    return this.profile.localCallCode >= 0 && hasM(this.block, this.profile.localCallCode);
  }

  private isCall(word: number): boolean {
    return this.table.m[this.block.values[word]] === Group.call;
  }

  private isCycle(code: number): boolean {
    return code >= 700 && code < 900;
  }

  private groupOf(word: number): number {
    const code = Math.round(this.block.values[word] * 10);
    return this.table.g[code] ?? UNKNOWN_GROUP;
  }

  /** The block's last G code of a group, G number × 10; −1 none. */
  private lastCode(fits: (group: number, code: number) => boolean): number {
    const { block } = this;
    if (block.codeCount === 0) return -1;
    for (let word = block.wordCount - 1; word >= 0; word--) {
      if (block.letters[word] !== G || (block.flags[word] & (WordFlag.bad | WordFlag.empty)) !== 0) continue;
      const code = Math.round(block.values[word] * 10);
      if (fits(this.groupOf(word), code)) return code;
    }
    return -1;
  }
}

const LETTERS = { F: 'feed', S: 'speed', T: 'tool' } as const;

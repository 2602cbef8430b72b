/**
 * Writes blocks as the profile wants them: units, decimals, trailing points, block numbers, remark style. Knows the modes it
 * changed, so that they can be put back. Lengths are given in mm, feeds in mm/min.
 */
import type { ControlProfile } from '../machine/profile.ts';
import type { BlockContext } from './context.ts';
import type { Place } from './parameter.ts';

/** A word: verbatim (`G1`, `M8`), or a letter with a number that is formatted by what the letter means. */
export type Word = string | readonly [letter: string, value: number];

const LENGTHS = 'XYZUVWIJKRQ';
const MM_PLACES = 3;
const INCH_PLACES = 4;

/** A length as the control reads it: 3 decimals in mm, 4 in inches, always with a point. Takes and gives the program's units. */
export const formatLength = (value: number, inch: boolean): string => {
  const fixed = value.toFixed(inch ? INCH_PLACES : MM_PLACES).replace(/0+$/, '');
  return fixed === '-0.' ? '0.' : fixed;
};

/** The value that is left of a length in mm once it is written in the program's units. */
export const roundLength = (value: number, inch: boolean): number =>
  inch ? Number((value / 25.4).toFixed(INCH_PLACES)) * 25.4 : Number(value.toFixed(MM_PLACES));

/** Coolants by their names, as `EntryState` has them. */
const COOLANT_BITS: Readonly<Record<string, number>> = { none: 0, mist: 1, flood: 2 };

/** A feed rounded down to what people write: whole mm/min from 10 on, else tenths; tenths and hundredths in inches. mm/min in and out. */
export const roundFeed = (feed: number, inch: boolean): number => {
  const factor = inch ? 25.4 : 1;
  const value = feed / factor;
  const step = (value >= 10 ? 1 : 0.1) / (inch ? 10 : 1);
  // A value that is only a rounding error below its step is on it.
  const rounded = Math.floor(value / step + 1e-6) * step;
  return (rounded > 0 ? rounded : value) * factor;
};

/** One tool's part of a block. Lengths mm. */
export interface Section {
  /** Changes to this tool first; undefined: the cutter is in the spindle. */
  readonly toolNumber?: number | undefined;
  /** Words for the remark at the tool change. */
  readonly description?: string;
  /** rev/min. */
  readonly speed: number;
  readonly hand?: 'right' | 'left';
  /** The work behind it starts the spindle by itself: here it stands. */
  readonly startsSpindle?: boolean;
  /** Where the tool goes first, at the height it is safe at. */
  readonly at: Place;
  /** Safe level, mm. */
  readonly retract: number;
}

/** Text of a block, line by line. */
export class BlockWriter {
  readonly lines: string[] = [];
  readonly context: BlockContext;
  readonly profile: ControlProfile;
  readonly inch: boolean;
  /** What the block left on that was otherwise before: words that put it back. */
  readonly #back = new Map<string, string>();
  #number: number | undefined;
  #height: number | undefined;
  /** F as written last, mm/min; undefined where the block wrote none. */
  feed: number | undefined;
  /** S as written last, rev/min. */
  speed: number | undefined;
  /** M3 or M4 as written last. */
  spindle: number | undefined;
  /** Coolant that is on, as `EntryState` has it; undefined where nobody knows. */
  #coolant: number | undefined;
  /** Coolant that the block runs with. */
  readonly #wantedCoolant: number | undefined;
  /** Calls the subprogram with the places of a cycle behind the first; undefined: they stand in the block. */
  placesCall: readonly string[] | undefined;
  /** A tool was changed. */
  changedTool = false;

  /** `coolant`: what the block runs with; undefined: what is on before it. */
  constructor(context: BlockContext, coolant?: string) {
    this.context = context;
    this.profile = context.configuration.profile;
    this.inch = context.entry.units === 'inch';
    this.#number = context.firstNumber;
    this.#height = context.entry.height;
    this.#coolant = context.entry.coolant;
    this.#wantedCoolant = coolant === undefined ? context.entry.coolant : COOLANT_BITS[coolant];
  }

  /** The height that the tip is known to be at, mm. */
  get height(): number | undefined {
    return this.#height;
  }

  /** A word as it is written. Lengths mm, F mm/min, S rev/min; other letters whole numbers. */
  word(word: Word): string {
    if (typeof word === 'string') return word;
    const [letter, value] = word;
    if (LENGTHS.includes(letter)) return letter + formatLength(value / (this.inch ? 25.4 : 1), this.inch);
    if (letter === 'F') return `F${this.#feedText(value / (this.inch ? 25.4 : 1))}`;
    if (letter === 'A' || letter === 'B' || letter === 'C') return letter + formatLength(value, false);
    return letter + String(Math.round(value));
  }

  #feedText(value: number): string {
    const text = String(Number(value.toFixed(this.inch ? INCH_PLACES : MM_PLACES)));
    return this.profile.decimalPoint === 'increment' && !text.includes('.') ? `${text}.` : text;
  }

  /** A block of words. Notes F, S and the height that it leads to in G90. */
  block(...words: readonly Word[]): void {
    for (const word of words) this.#note(word);
    const text = words.map((word) => this.word(word)).join(' ');
    this.lines.push(this.#number === undefined ? text : `N${this.#takeNumber()} ${text}`);
  }

  #note(word: Word): void {
    if (word === 'M3' || word === 'M4' || word === 'M5') this.spindle = Number(word.slice(1));
    if (typeof word === 'string') return;
    if (word[0] === 'F') this.feed = word[1];
    else if (word[0] === 'S') this.speed = Math.round(word[1]);
    else if (word[0] === 'Z') this.#height = word[1];
  }

  #takeNumber(): number {
    const number = this.#number ?? 0;
    this.#number = number + this.context.configuration.blockNumbers.step;
    return number;
  }

  /** Further places of a cycle that is on: a block each, or the call of the subprogram that has them. */
  furtherPlaces(places: readonly Place[]): void {
    if (this.placesCall !== undefined) this.block(...this.placesCall);
    else for (const [x, y] of places) this.block(['X', x], ['Y', y]);
  }

  /** A rapid. In a block of its own, G0 always written. */
  rapid(...words: readonly (readonly [string, number])[]): void {
    this.block('G0', ...words);
  }

  /** A straight cut; F is written where it is another one than before. */
  cut(feed: number, ...words: readonly (readonly [string, number])[]): void {
    this.block('G1', ...words, ...this.#feedWord(feed));
  }

  /** An arc in the XY plane to X Y (and Z of a helix) about a centre; `from` is where the tool stands. F where it is another one. */
  arc(clockwise: boolean, from: Place, to: Place, centre: Place, feed: number, more: readonly Word[] = []): void {
    this.block(
      clockwise ? 'G2' : 'G3',
      ['X', to[0]],
      ['Y', to[1]],
      ...more,
      ['I', centre[0] - from[0]],
      ['J', centre[1] - from[1]],
      ...this.#feedWord(feed),
    );
  }

  #feedWord(feed: number): Word[] {
    return this.feed !== undefined && Math.abs(this.feed - feed) < 1e-9 ? [] : [['F', feed]];
  }

  /** A wait in seconds, in the words of the profile (seconds, or milliseconds). */
  dwell(seconds: number): void {
    this.block('G4', this.dwellWord(seconds));
  }

  /** P of a dwell, in G4 or in a cycle. */
  dwellWord(seconds: number): string {
    return this.profile.dwell === 'milliseconds'
      ? `P${Math.round(seconds * 1000)}`
      : `P${formatLength(seconds, false)}`;
  }

  /** A remark, in the style that the profile takes; nothing where it takes none. Cut into lines of its length at spaces. */
  remark(text: string): void {
    const { brackets, semicolon, slashes } = this.profile.remarks;
    const [open, close] = brackets ? ['( ', ' )'] : semicolon ? ['; ', ''] : slashes ? ['// ', ''] : ['', ''];
    if (open === '') return;
    for (const line of wrap(text, remarkLength(this.profile))) this.lines.push(open + line + close);
  }

  /** Sets modes that differ from the entry's: G90, G17, G94 and, where it matters, G91.1. They are put back by `restore`. */
  setModes(): void {
    const { entry } = this.context;
    const words: string[] = [];
    const set = (wanted: string, before: string): void => {
      if (before === wanted) return;
      words.push(wanted);
      this.#back.set(wanted, before);
    };
    set('G17', `G${entry.plane}`);
    set('G90', `G${entry.distance}`);
    set('G94', `G${entry.feedMode}`);
    if (entry.arcDistance === 90) set('G91.1', 'G90.1');
    // Stated although they hold: a block is read, and revised, on its own.
    const stated = ['G17', 'G90', 'G94'].filter((word) => !words.includes(word));
    this.block(...[...stated, ...words].sort());
  }

  /** Notes that a mode was changed by hand: what it is now and what puts it back, such as `G99` and `G98`. */
  changedMode(now: string, before: string): void {
    if (now !== before) this.#back.set(now, before);
  }

  /** T and M6, in two blocks where the control changes to the tool that was called before. The tip's height is not known then. */
  changeTool(toolNumber: number, description = ''): void {
    // The remark stands in the block of the change, where the checks look for it.
    const beside = this.#remarkBeside(description);
    if (this.profile.toolChange === 'called-before') {
      this.block(['T', toolNumber]);
      this.block('M6', ...beside);
    } else this.block(['T', toolNumber], 'M6', ...beside);
    if (description !== '' && beside.length === 0) this.remark(description);
    this.changedTool = true;
    this.#height = undefined;
  }

  /** A remark as a word behind others; none where it is empty or the profile takes remarks only at the start of a block. */
  #remarkBeside(text: string): string[] {
    const { brackets, semicolon } = this.profile.remarks;
    if (text === '' || (!brackets && !semicolon)) return [];
    return [brackets ? `( ${text} )` : `; ${text}`];
  }

  /** Begins a tool's part: tool change where asked for, first place at a safe height, speed, safe level. */
  section({ toolNumber, description, speed, hand = 'right', startsSpindle = false, at, retract }: Section): void {
    const place: readonly (readonly [string, number])[] = [
      ['X', at[0]],
      ['Y', at[1]],
    ];
    const start: Word[] = [['S', speed], hand === 'left' ? 'M4' : 'M3'];
    const isStanding = toolNumber !== undefined || (this.spindle ?? this.context.entry.spindle) === 5;
    if (toolNumber !== undefined) {
      // At an unknown height the tool is at a safe place, which may be higher; it is moved only where it is known to be low.
      if (this.#height !== undefined && this.#height < retract) this.rapid(['Z', retract]);
      this.coolantOff();
      this.block('M5');
      // Not every machine goes up by itself to change a tool.
      this.block('G91', 'G28', 'Z0.');
      this.block('G90');
      this.changeTool(toolNumber, description);
      if (!startsSpindle) this.block(...start);
      this.rapid(...place);
      const row = this.context.configuration.tools.find(({ number }) => number === toolNumber);
      this.block('G43', ['Z', retract], ['H', row?.lengthOffset ?? toolNumber]);
      this.coolantOn();
      return;
    }
    if (!startsSpindle) this.block(...start);
    else if (!isStanding) this.block('M5');
    // Known to be low: up first. At an unknown height the tool is at a safe place, and goes over the hole there.
    const isLow = this.#height !== undefined && this.#height < retract;
    if (isLow) this.rapid(['Z', retract]);
    this.rapid(...place);
    if (!isLow) this.rapid(['Z', retract]);
    this.coolantOn();
  }

  /** Turns on the coolant that the block runs with; nothing where it is on already. */
  coolantOn(): void {
    this.#setCoolant(this.#wantedCoolant);
  }

  /** Turns off what coolant is on. */
  coolantOff(): void {
    if ((this.#coolant ?? 0) !== 0) this.#setCoolant(0);
  }

  #setCoolant(wanted: number | undefined): void {
    if (wanted === undefined || wanted === this.#coolant) return;
    const before = this.#coolant ?? 0;
    // M9 is the only code that turns one off, and it turns off both.
    const isCleared = wanted === 0 || (before & ~wanted) > 0;
    if (isCleared) this.block('M9');
    const missing = isCleared ? wanted : wanted & ~before;
    if ((missing & COOLANT_BITS.mist) > 0) this.block('M7');
    if ((missing & COOLANT_BITS.flood) > 0) this.block('M8');
    this.#coolant = wanted;
  }

  /**
   * Goes up to the level the block ends at and puts back what was in force before it: modes, F, S, spindle, motion. What it
   * cannot put back stands in a remark.
   */
  restore(end: number): void {
    const { entry } = this.context;
    const own: string[] = [];
    if (this.#height !== end) this.rapid(['Z', end]);
    if (this.#coolant !== undefined) this.#setCoolant(entry.coolant ?? 0);
    const isFeedKnown = entry.feed !== undefined && entry.feedMode !== 93;
    if (this.feed !== undefined && !isFeedKnown) own.push('F');
    this.#restoreSpindle(own);
    // Where S stays the block's own, no cut may follow before a new one is given: G1 is not put back either.
    const straight = entry.motion === 10 && !own.includes('S');
    if (straight && isFeedKnown && entry.feedMode === 94 && entry.distance === 90) {
      // A cut of no length puts motion and F back in every control.
      this.block('G1', ['Z', end], ['F', entry.feed ?? 0]);
    } else if (this.feed !== undefined && isFeedKnown && entry.feedMode === 94) {
      this.block(['F', entry.feed ?? 0]);
    }
    const words = [...this.#back.values()];
    const perTurn =
      entry.feedMode === 95 && entry.feed !== undefined
        ? [`F${formatLength(entry.feed / (this.inch ? 25.4 : 1), this.inch)}`]
        : [];
    if (words.length > 0) this.block(...words, ...(this.feed === undefined ? [] : perTurn));
    if (entry.motion > 0 && !(straight && isFeedKnown && entry.feedMode === 94 && entry.distance === 90))
      this.remark('G0 IS NOW ON');
    if (own.length > 0)
      this.remark(
        `${own.join(' AND ')} ${own.length > 1 ? 'STAY' : 'STAYS'} AS SET IN THIS BLOCK: GIVE ${own.length > 1 ? 'THEM' : 'IT'} AGAIN`,
      );
  }

  #restoreSpindle(own: string[]): void {
    const { entry } = this.context;
    if (this.speed === undefined) return;
    if (this.changedTool || entry.speed === undefined) {
      own.push('S');
      return;
    }
    const isStopped = entry.spindle === 5 || entry.spindle === 0;
    if (entry.speed !== this.speed || (this.spindle !== entry.spindle && !isStopped)) {
      this.block(['S', entry.speed], ...(isStopped ? [] : [`M${entry.spindle}`]));
    }
    if (entry.spindle === 5 && this.spindle !== 5) this.block('M5');
  }
}

/** Longest remark that every control shows without cutting it, with its brackets (common practice, no source). */
const LONGEST_LINE = 72;

/** Characters that a remark has room for. */
export const remarkLength = (profile: ControlProfile): number => Math.min(profile.lineLength, LONGEST_LINE) - 4;

/** Cuts a text at spaces into pieces of at most `length` characters; a longer word stays whole. */
const wrap = (text: string, length: number): string[] => {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line !== '' && line.length + 1 + word.length > length) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  if (line !== '') lines.push(line);
  return lines;
};

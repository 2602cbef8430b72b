/**
 * Right programs put together at random from operations that every shop does, each program in the habits of one hand:
 * units, points, numbers, small letters, ways home, start blocks, names of tools. Seeded. The plate, 120 × 80 × 20, its
 * zero on the lower left corner or in the middle of the top, is invented; feeds and speeds are common practice, no source.
 */
import type { Stock } from '../../server/src/core/machine/configuration.ts';
import { seeded } from '../bench/program.ts';
import { holes, operations } from './operations.ts';

/** The habits of one hand. */
export interface Habits {
  readonly inch: boolean;
  /** Decimals written. */
  readonly places: number;
  readonly trailingZeros: boolean;
  /** No points at all: numbers count thousandths of a millimetre, or tenths of a thousandth of an inch. */
  readonly isCounting: boolean;
  readonly hasNumbers: boolean;
  readonly isSmall: boolean;
  readonly twoDigits: boolean;
  readonly space: string;
  readonly home: 'g28' | 'g53' | 'up';
  readonly hasMotionInEach: boolean;
  readonly endsCycle: 'G80' | 'G0';
  readonly hasTape: boolean;
  readonly zeroInMiddle: boolean;
  readonly startsEachTool: boolean;
  readonly remarks: 'tools' | 'many' | 'foreign';
  readonly optionalStops: boolean;
}

/** Writes a program in the habits of one hand. */
export class Writer {
  readonly habits: Habits;
  readonly random: () => number;
  private readonly lines: string[] = [];
  private motion = -1;
  private tool = 0;

  constructor(habits: Habits, random: () => number) {
    this.habits = habits;
    this.random = random;
  }

  /** A length in mm as a number of the program. */
  number(millimetres: number): string {
    const { inch, places, trailingZeros, isCounting } = this.habits;
    const value = millimetres / (inch ? 25.4 : 1);
    if (isCounting) return String(Math.round(value * 10 ** places) + 0);
    const fixed = value.toFixed(places);
    const short = trailingZeros ? fixed : fixed.replace(/0+$/, '');
    return Number(fixed) === 0 ? (trailingZeros ? (0).toFixed(places) : '0.') : short;
  }

  /** Words of X Y Z and of I J K R in mm. */
  words(values: Readonly<Record<string, number>>): string {
    return Object.entries(values)
      .map(([letter, value]) => `${letter}${this.number(value)}`)
      .join(' ');
  }

  /** A feed in mm/min, rounded as one writes it. */
  feed(perMinute: number): string {
    const value = this.habits.inch ? Math.round((perMinute / 25.4) * 10) / 10 : Math.round(perMinute / 5) * 5;
    return `F${Number.isInteger(value) && !this.habits.isCounting ? `${value}.` : value}`;
  }

  /** X and Y of a place counted from the lower left corner. */
  place(x: number, y: number): { X: number; Y: number } {
    return this.habits.zeroInMiddle ? { X: x - 60, Y: y - 40 } : { X: x, Y: y };
  }

  /** A motion block. */
  move(code: 0 | 1 | 2 | 3, values: Readonly<Record<string, number>>, feed?: number): void {
    const isSame = this.motion === code && !this.habits.hasMotionInEach;
    const parts = [isSame ? '' : `G${code}`, this.words(values), feed === undefined ? '' : this.feed(feed)];
    this.motion = code;
    this.block(parts.filter((part) => part !== '').join(' '));
  }

  /** Any block; `changesMotion` where the next move has to say its code. */
  block(text: string, changesMotion = false): void {
    if (changesMotion) this.motion = -1;
    this.lines.push(text);
  }

  remark(text: string): void {
    if (this.habits.remarks === 'many') this.lines.push(`(${text})`);
  }

  /** Calls the next tool, with its remark, over a place. */
  call(name: string, speed: number, x: number, y: number): number {
    const { habits } = this;
    this.tool++;
    if (habits.optionalStops && this.tool > 1) this.block('M1');
    this.block(`T${this.tool} M6 (${name})`);
    if (habits.startsEachTool) this.block('G17 G40 G80 G90', true);
    this.block(`G0 G54 ${this.words(this.place(x, y))} S${speed} M3`);
    this.block(`G43 ${this.words({ Z: 50 })} H${this.tool}`);
    this.block('M8');
    this.motion = 0;
    return this.tool;
  }

  /** Takes the tool away. */
  away(): void {
    this.move(0, { Z: 50 });
    this.block('M9');
    this.block('M5');
    if (this.habits.home === 'g28') {
      this.block('G91 G28 Z0.');
      this.block('G90');
    } else if (this.habits.home === 'g53') this.block('G53 G0 Z0.');
    else this.move(0, { Z: 150 });
    this.motion = -1;
  }

  /** The whole text. */
  text(name: string): string {
    const { habits } = this;
    const tape = habits.hasTape ? ['%'] : [];
    const start = [`G17 G${habits.inch ? 20 : 21} G40 G49 G80 G90`];
    const numbered = [...start, ...this.lines, 'M30'].map((line, i) =>
      habits.hasNumbers && !line.startsWith('(') ? `N${(i + 1) * 10} ${line}` : line,
    );
    const all = [...tape, `O${1000 + Math.floor(this.random() * 8000)} (${name})`, ...numbered, ...tape, ''];
    return all.map((line) => this.written(line)).join('\n');
  }

  private written(line: string): string {
    const { isSmall, twoDigits, space, isCounting } = this.habits;
    const cased = isSmall ? line.toLowerCase() : line;
    return cased.replace(/\([^)]*\)|[^(]+/g, (part) => {
      if (part.startsWith('(')) return part;
      const plain = isCounting ? part.replace(/P0\.3/i, 'P300') : part;
      const digits = twoDigits ? plain.replace(/\b([GMTHD])(\d)(?![\d.])/gi, '$10$2') : plain;
      return digits.replace(/ /g, space);
    });
  }
}

const habitsOf = (random: () => number): Habits => {
  const often = (share: number): boolean => random() < share;
  const inch = often(0.3);
  const ways = ['g28', 'g53', 'up'] as const;
  return {
    inch,
    places: inch ? 4 : 3,
    trailingZeros: often(0.3),
    isCounting: often(0.2),
    hasNumbers: often(0.4),
    isSmall: often(0.25),
    twoDigits: often(0.3),
    space: often(0.25) ? '' : ' ',
    home: ways[Math.floor(random() * 3)],
    hasMotionInEach: often(0.4),
    endsCycle: often(0.8) ? 'G80' : 'G0',
    hasTape: often(0.6),
    zeroInMiddle: often(0.4),
    startsEachTool: often(0.5),
    remarks: (['tools', 'many', 'foreign'] as const)[Math.floor(random() * 3)],
    optionalStops: often(0.4),
  };
};

/** A program of one hand, with the plate it is for. */
export interface ComposedProgram {
  readonly program: string;
  readonly profile: 'iso' | 'iso-macro';
  readonly stock: Stock;
}

/** One program of a hand; the plate has its finished size, as after facing. */
export const composedProgram = (seed: number): ComposedProgram => {
  const random = seeded(seed);
  const writer = new Writer(habitsOf(random), random);
  const chosen = operations.filter(() => random() < 0.55);
  for (const operation of chosen.length === 0 ? [holes] : chosen) operation(writer);
  const { X, Y } = writer.place(0, 0);
  const stock: Stock = { offset: 'G54', shape: 'box', min: [X, Y, -20], max: [X + 120, Y + 80, 0] };
  const profile = writer.habits.isCounting ? 'iso-macro' : 'iso';
  return { program: writer.text('PLATE 120 X 80 X 20'), profile, stock };
};

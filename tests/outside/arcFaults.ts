/**
 * Reads the arcs of a simple program and writes faults into them. Imports nothing of the product. The reading knows G0 to G3,
 * G17 to G19, G20, G21, G90, G91, G90.1, G91.1 and plain numbers; that is all that the programs here are made of.
 */
import { oneOf, PLANES, type Random } from './arcPrograms.ts';

/** A word of a block: where it stands and what it says. */
interface Word {
  readonly letter: string;
  readonly value: number;
  readonly at: number;
  readonly text: string;
}

type Point = readonly [number, number];

/** An arc as it is written, and what it makes. */
export interface WrittenArc {
  readonly line: number;
  readonly plane: number;
  /** Line and column of the code that selected the plane. */
  readonly planeAt: { readonly line: number; readonly at: number; readonly text: string } | undefined;
  readonly words: readonly Word[];
  readonly absoluteCentres: boolean;
  readonly start: Point;
  readonly end: Point;
  readonly centre: Point;
  readonly clockwise: boolean;
  /** Joins the move before, or the one behind, within a degree. */
  joinsBefore: boolean;
  joinsBehind: boolean;
}

const wordsOf = (line: string): Word[] => {
  const plain = line.replace(/\([^)]*\)/g, (remark) => ' '.repeat(remark.length));
  return [...plain.matchAll(/([A-Z])\s*([-+]?(?:\d+\.?\d*|\.\d+))/gi)].map((match) => ({
    letter: match[1].toUpperCase(),
    value: Number(match[2]),
    at: match.index,
    text: match[0],
  }));
};

interface Going {
  readonly arc: WrittenArc | undefined;
  readonly setsOff: Point | undefined;
  readonly arrives: Point | undefined;
}

/** All arcs of a program, in order, of those whose start is known. */
export const arcsOf = (program: string): WrittenArc[] => {
  const reading = new Reading();
  const goings: Going[] = [];
  program.split(/\r?\n/).forEach((text, line) => {
    const going = reading.take(wordsOf(text), line);
    if (going !== undefined) goings.push(going);
  });
  goings.forEach(({ arc, setsOff, arrives }, place) => {
    if (arc === undefined) return;
    arc.joinsBefore = isSmooth(goings[place - 1]?.arrives, setsOff);
    arc.joinsBehind = isSmooth(arrives, goings[place + 1]?.setsOff);
  });
  return goings.flatMap(({ arc }) => (arc === undefined ? [] : [arc]));
};

const isSmooth = (a: Point | undefined, b: Point | undefined): boolean =>
  a !== undefined && b !== undefined && a[0] * b[0] + a[1] * b[1] > Math.cos(Math.PI / 180);

/** The modes and the place while a program is read. */
class Reading {
  private plane = 17;
  private planeAt: WrittenArc['planeAt'];
  private motion = -1;
  private incremental = false;
  private absoluteCentres = false;
  private readonly at: Record<string, number> = { X: Number.NaN, Y: Number.NaN, Z: Number.NaN };

  /** Takes a block; what it moves, if it moves in the plane or at rapid. */
  take(words: readonly Word[], line: number): Going | undefined {
    let isHome = false;
    for (const { letter, value, at, text } of words) {
      if (letter !== 'G') continue;
      if (value >= 17 && value <= 19) {
        this.plane = value;
        this.planeAt = { line, at, text };
      } else if (value <= 3) this.motion = value;
      else if (value === 90) this.incremental = false;
      else if (value === 91) this.incremental = true;
      else if (value === 90.1) this.absoluteCentres = true;
      else if (value === 91.1) this.absoluteCentres = false;
      else if (value === 28) isHome = true;
      else if (value >= 73 && value <= 89) this.motion = value;
    }
    const value = (letter: string) => words.find((word) => word.letter === letter)?.value;
    if (isHome || this.motion > 3 || !words.some(({ letter }) => 'XYZIJKR'.includes(letter))) return undefined;
    const { axes, centres } = PLANES[this.plane];
    const start: Point = [this.at[axes[0]], this.at[axes[1]]];
    for (const axis of 'XYZ') {
      const given = value(axis);
      if (given !== undefined) this.at[axis] = this.incremental ? this.at[axis] + given : given;
    }
    const end: Point = [this.at[axes[0]], this.at[axes[1]]];
    if (this.motion < 2) {
      const way = this.motion === 1 ? direction(start, end) : undefined;
      return { arc: undefined, setsOff: way, arrives: way };
    }
    const clockwise = this.motion === 2;
    const given = [0, 1].map((axis) => value(centres[axis]));
    const radius = value('R');
    const centre: Point =
      radius !== undefined
        ? centreByRadius(start, end, radius, clockwise)
        : ([0, 1].map((axis) => (given[axis] ?? 0) + (this.absoluteCentres ? 0 : start[axis])) as unknown as Point);
    if (!Number.isFinite(start[0] + start[1] + centre[0] + centre[1]))
      return { arc: undefined, setsOff: undefined, arrives: undefined };
    const { plane, planeAt, absoluteCentres } = this;
    const arc: WrittenArc = {
      line,
      plane,
      planeAt,
      words,
      absoluteCentres,
      start,
      end,
      centre,
      clockwise,
      joinsBefore: false,
      joinsBehind: false,
    };
    return { arc, setsOff: across(centre, start, clockwise), arrives: across(centre, end, clockwise) };
  }
}

const direction = (from: Point, to: Point): Point | undefined => {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  return length > 1e-9 ? [(to[0] - from[0]) / length, (to[1] - from[1]) / length] : undefined;
};

/** Direction of a circle at a point of it. */
const across = (centre: Point, at: Point, clockwise: boolean): Point => {
  const length = Math.hypot(at[0] - centre[0], at[1] - centre[1]);
  const [first, second] = [(at[0] - centre[0]) / length, (at[1] - centre[1]) / length];
  return clockwise ? [second, -first] : [-second, first];
};

const centreByRadius = (start: Point, end: Point, radius: number, clockwise: boolean): Point => {
  const chord = Math.hypot(end[0] - start[0], end[1] - start[1]);
  const height = Math.sqrt(Math.max(0, radius * radius - (chord * chord) / 4));
  const side = clockwise === radius < 0 ? 1 : -1;
  const [first, second] = [(end[0] - start[0]) / chord, (end[1] - start[1]) / chord];
  return [(start[0] + end[0]) / 2 - side * second * height, (start[1] + end[1]) / 2 + side * first * height];
};

/** The kinds of faults. */
export const FAULTS = [
  'wrong letter of a centre word',
  'sign of a centre word',
  'sign of both centre words',
  'sign of an end word',
  'two digits exchanged',
  'centre from the zero for from the start',
  'centre from the start for from the zero',
  'wrong plane',
  'R too small',
  'end point off',
] as const;

export type FaultKind = (typeof FAULTS)[number];

/** A program with a fault in it. */
export interface Fault {
  readonly kind: FaultKind;
  readonly program: string;
  readonly line: number;
  /** Why what was written before cannot be known from the rest; undefined where it can. */
  readonly lost: string | undefined;
}

/** Writes a fault of a kind into an arc; undefined where the arc cannot have it. */
export const faultIn = (program: string, arc: WrittenArc, kind: FaultKind, random: Random): Fault | undefined => {
  const { line } = arc;
  if (kind === 'wrong plane') return wrongPlane(program, arc, random);
  const edits = editsFor(arc, kind, random);
  if (edits === undefined) return undefined;
  return { kind, program: withWords(program, line, edits), line, lost: lossOf(arc, kind) };
};

type WordEdit = { readonly word: Word; readonly text: string };

const withWords = (program: string, line: number, edits: readonly WordEdit[]): string => {
  const lines = program.split('\n');
  for (const { word, text } of [...edits].sort((a, b) => b.word.at - a.word.at)) {
    lines[line] = lines[line].slice(0, word.at) + text + lines[line].slice(word.at + word.text.length);
  }
  return lines.join('\n');
};

/** What the rest of the program cannot give back. */
const lossOf = (arc: WrittenArc, kind: FaultKind): string | undefined => {
  const byRadius = arc.words.some(({ letter }) => letter === 'R');
  if (kind === 'R too small') {
    const half = Math.hypot(arc.end[0] - arc.start[0], arc.end[1] - arc.start[1]) / 2;
    const radius = Math.hypot(arc.start[0] - arc.centre[0], arc.start[1] - arc.centre[1]);
    const isHalf = Math.abs(radius - half) < 0.001 * half;
    return isHalf || arc.joinsBefore || arc.joinsBehind ? undefined : 'neither half a circle nor smooth to a neighbour';
  }
  if (kind === 'end point off' && byRadius && !arc.joinsBefore) return 'R alone does not say where the circle lies';
  return undefined;
};

const editsFor = (arc: WrittenArc, kind: FaultKind, random: Random): WordEdit[] | undefined => {
  const { axes, centres } = PLANES[arc.plane];
  const plane = arc.words.filter(({ letter }) => centres.slice(0, 2).includes(letter));
  const ends = arc.words.filter(({ letter }) => axes.slice(0, 2).includes(letter));
  const nonZero = (words: readonly Word[]) => words.filter(({ value }) => value !== 0);
  const sign = (word: Word): WordEdit => ({ word, text: otherSign(word.text) });
  if (kind === 'wrong letter of a centre word') return wrongLetter(arc, plane, random);
  if (kind === 'sign of a centre word')
    return nonZero(plane).length > 0 ? [sign(oneOf(random, nonZero(plane)))] : undefined;
  if (kind === 'sign of both centre words') return nonZero(plane).length === 2 ? plane.map(sign) : undefined;
  if (kind === 'sign of an end word')
    return nonZero(ends).length > 0 ? [sign(oneOf(random, nonZero(ends)))] : undefined;
  if (kind === 'two digits exchanged') return digitsExchanged(arc, random);
  if (kind === 'R too small') return tooSmall(arc, random);
  if (kind === 'end point off') return endOff(ends, random);
  const fromZero = kind === 'centre from the zero for from the start';
  if (arc.absoluteCentres === fromZero || plane.length !== 2) return undefined;
  return plane.map((word) => {
    const start = arc.start[centres.indexOf(word.letter)];
    return { word, text: withNumber(word, word.value + (fromZero ? start : -start)) };
  });
};

const otherSign = (text: string): string =>
  text.includes('-') ? text.replace('-', '') : text.replace(/^([A-Z]\s*)\+?/i, '$1-');

/** A word with another number, written in the way of the old one. */
const withNumber = ({ text }: Word, value: number): string => {
  const decimals = /\.(\d*)/.exec(text);
  const isFilled = decimals !== null && decimals[1].length >= 3 && decimals[1].endsWith('0');
  const places = 4;
  let number = value.toFixed(isFilled ? decimals[1].length : places);
  if (!isFilled) number = number.replace(/0+$/, '');
  if (decimals === null) number = number.replace(/\.$/, '');
  return text[0] + (Number(number) === 0 ? number.replace('-', '') : number);
};

const isLower = ({ text }: Word): boolean => text[0] !== text[0].toUpperCase();

const wrongLetter = (arc: WrittenArc, plane: readonly Word[], random: Random): WordEdit[] | undefined => {
  const taken = arc.words.map(({ letter }) => letter);
  const free = [...'IJK'].filter((letter) => !taken.includes(letter));
  if (plane.length === 0 || free.length === 0) return undefined;
  const word = oneOf(random, plane);
  const letter = oneOf(random, free);
  return [{ word, text: (isLower(word) ? letter.toLowerCase() : letter) + word.text.slice(1) }];
};

const digitsExchanged = (arc: WrittenArc, random: Random): WordEdit[] | undefined => {
  const { axes, centres } = PLANES[arc.plane];
  const letters = `${axes.slice(0, 2)}${centres.slice(0, 2)}R`;
  const ways = arc.words
    .filter(({ letter }) => letters.includes(letter))
    .flatMap((word) => {
      const { text } = word;
      return [...text].flatMap((digit, place) => {
        const next = text[place + 1];
        if (next === undefined || next === digit || !/\d/.test(digit) || !/\d/.test(next)) return [];
        return [{ word, text: text.slice(0, place) + next + digit + text.slice(place + 2) }];
      });
    });
  return ways.length > 0 ? [oneOf(random, ways)] : undefined;
};

const tooSmall = (arc: WrittenArc, random: Random): WordEdit[] | undefined => {
  const word = arc.words.find(({ letter }) => letter === 'R');
  const half = Math.hypot(arc.end[0] - arc.start[0], arc.end[1] - arc.start[1]) / 2;
  if (word === undefined || !(half > 0)) return undefined;
  return [{ word, text: withNumber(word, Number((half * (0.4 + 0.5 * random())).toFixed(2)) * Math.sign(word.value)) }];
};

const endOff = (ends: readonly Word[], random: Random): WordEdit[] | undefined => {
  if (ends.length === 0) return undefined;
  const word = oneOf(random, ends);
  const off = Number((0.1 + random() * 3).toFixed(1 + Math.floor(random() * 2))) * (random() < 0.5 ? -1 : 1);
  return [{ word, text: withNumber(word, word.value + off) }];
};

const wrongPlane = (program: string, arc: WrittenArc, random: Random): Fault | undefined => {
  const { planeAt, plane } = arc;
  if (planeAt === undefined) return undefined;
  const other = oneOf(
    random,
    [17, 18, 19].filter((code) => code !== plane),
  );
  const word: Word = { letter: 'G', value: plane, at: planeAt.at, text: planeAt.text };
  const text = planeAt.text.replace(String(plane), String(other));
  const changed = withWords(program, planeAt.line, [{ word, text }]);
  return { kind: 'wrong plane', program: changed, line: planeAt.line, lost: undefined };
};

/**
 * What can be seen of a program's flow without executing it: its programs (O numbers), sequence numbers and loops.
 * Read chunk by chunk and kept with the chunk, so that an edit reads one chunk again.
 */
import type { ControlProfile } from '../../machine/profile.ts';
import { Block } from '../../syntax/block.ts';
import { BlockReader } from '../../syntax/reader.ts';
import type { LineChunk } from '../../text/lineChunk.ts';

/** WHILE … DOm … ENDm; lines of the program, `end` −1 where none closes it. */
export interface Loop {
  readonly number: number;
  readonly head: number;
  readonly end: number;
}

/** One program of a file: from its O number (or the file's start) to the line before the next one's. */
export interface ProgramUnit {
  /** O number, −1 where none is written. */
  readonly number: number;
  readonly firstLine: number;
  /** Line behind its last one. */
  readonly endLine: number;
}

interface LoopPart {
  readonly line: number;
  readonly number: number;
  readonly opens: boolean;
}

interface ChunkLayout {
  readonly labels: ReadonlyMap<number, readonly number[]>;
  readonly programs: readonly { readonly line: number; readonly number: number }[];
  readonly loops: readonly LoopPart[];
}

const layouts = new WeakMap<LineChunk, ChunkLayout>();
const block = new Block();
const NUMBERED = /^[\s/\d]*([NO:])\s*(\d+)/i;
const LOOP_WORDS = /W\s*H\s*I\s*L\s*E|D\s*O|E\s*N\s*D/i;

const readChunk = (text: LineChunk, reader: BlockReader): ChunkLayout => {
  const known = layouts.get(text);
  if (known !== undefined) return known;
  const labels = new Map<number, number[]>();
  const programs: { line: number; number: number }[] = [];
  const loops: LoopPart[] = [];
  const mayLoop = LOOP_WORDS.test(text.source.slice(text.start, text.end));
  for (let line = 0; line < text.lineCount; line++) {
    const [start, end] = [text.lineStart(line), text.lineEnd(line)];
    const head = NUMBERED.exec(text.source.slice(start, Math.min(end, start + 40)));
    const isColonLabel = head?.[1] === ':' && reader.profile.colon === 'alignment';
    if (head !== null && (isColonLabel || head[1].toUpperCase() === 'N')) {
      const number = Number(head[2]);
      const lines = labels.get(number);
      if (lines === undefined) labels.set(number, [line]);
      else lines.push(line);
    } else if (head !== null) programs.push({ line, number: Number(head[2]) });
    if (!mayLoop || !LOOP_WORDS.test(text.source.slice(start, end))) continue;
    reader.read(text.source, start, end, block, undefined);
    const { flow } = block;
    if (flow?.kind !== 'while' && flow?.kind !== 'end') continue;
    loops.push({ line, number: flow.target, opens: flow.kind === 'while' });
  }
  const layout = { labels, programs, loops };
  layouts.set(text, layout);
  return layout;
};

/** True if a block stands before line `line`: tape marks, remarks and empty lines are none. */
const hasWordsBefore = (texts: readonly LineChunk[], line: number): boolean => {
  let passed = 0;
  for (const text of texts) {
    for (let i = 0; i < text.lineCount && passed < line; i++, passed++) {
      if (/^\s*[^\s%(;/:]/.test(text.lineText(i))) return true;
    }
    if (passed >= line) return false;
  }
  return false;
};

/** See the top of the file. Lines are those of the whole text, from 0. */
export class ProgramLayout {
  readonly units: readonly ProgramUnit[];
  private readonly chunks: readonly ChunkLayout[];
  private readonly firstLine: (chunk: number) => number;
  private readonly labels = new Map<number, readonly number[]>();
  private readLoops: { loops: Loop[]; strayEnds: { line: number; number: number }[] } | undefined;
  private heads: Map<number, Loop> | undefined;
  private ends: Map<number, Loop> | undefined;

  constructor(
    texts: readonly LineChunk[],
    firstLine: (chunk: number) => number,
    lineCount: number,
    profile: ControlProfile,
  ) {
    const reader = new BlockReader(profile);
    this.chunks = texts.map((text) => readChunk(text, reader));
    this.firstLine = firstLine;
    const starts = this.chunks.flatMap(({ programs }, index) =>
      programs.map(({ line, number }) => ({ number, line: firstLine(index) + line })),
    );
    // Blocks before the first O number are a program without one.
    if (starts.length > 0 && hasWordsBefore(texts, starts[0].line)) starts.unshift({ number: -1, line: 0 });
    this.units = (starts.length === 0 ? [{ number: -1, line: 0 }] : starts).map(({ number, line }, i) => ({
      number,
      firstLine: i === 0 ? 0 : line,
      endLine: starts[i + 1]?.line ?? lineCount,
    }));
  }

  /** The program that a line belongs to. */
  unitOf(line: number): ProgramUnit {
    return this.units.find(({ endLine }) => line < endLine) ?? this.units[this.units.length - 1];
  }

  /** The program with an O number; undefined where this text has none. */
  unitOfNumber(number: number): ProgramUnit | undefined {
    return this.units.find((unit) => unit.number === number);
  }

  /** Lines that carry a sequence number, ascending. */
  linesOfSequenceNumber(number: number): readonly number[] {
    const known = this.labels.get(number);
    if (known !== undefined) return known;
    const found: number[] = [];
    this.chunks.forEach(({ labels }, index) => {
      for (const line of labels.get(number) ?? []) found.push(line + this.firstLine(index));
    });
    this.labels.set(number, found);
    return found;
  }

  /** The line that a jump from `line` leads to: searched on from there, then from the program's start. −1 none. Common practice, no source. */
  jumpTarget(number: number, line: number): number {
    const unit = this.unitOf(line);
    const lines = this.linesOfSequenceNumber(number).filter((at) => at >= unit.firstLine && at < unit.endLine);
    return lines.find((at) => at > line) ?? lines[0] ?? -1;
  }

  /** All loops in the order of their heads, and ENDs that close none. */
  get loops(): readonly Loop[] {
    return this.pair().loops;
  }

  get strayEnds(): readonly { readonly line: number; readonly number: number }[] {
    return this.pair().strayEnds;
  }

  /** The loop that begins or ends at a line. */
  loopAtHead(line: number): Loop | undefined {
    this.heads ??= new Map(this.loops.map((loop) => [loop.head, loop]));
    return this.heads.get(line);
  }

  loopAtEnd(line: number): Loop | undefined {
    this.ends ??= new Map(this.loops.map((loop) => [loop.end, loop]));
    return this.ends.get(line);
  }

  private pair(): { loops: Loop[]; strayEnds: { line: number; number: number }[] } {
    if (this.readLoops !== undefined) return this.readLoops;
    const loops: Loop[] = [];
    const strayEnds: { line: number; number: number }[] = [];
    const open: { number: number; head: number; unit: ProgramUnit }[] = [];
    this.chunks.forEach(({ loops: parts }, index) => {
      for (const part of parts) {
        const line = part.line + this.firstLine(index);
        const unit = this.unitOf(line);
        if (part.opens) open.push({ number: part.number, head: line, unit });
        else {
          // An END of another number closes nothing; the loops opened behind its own head are left unclosed.
          let at = open.length - 1;
          while (at >= 0 && (open[at].number !== part.number || open[at].unit !== unit)) at--;
          if (at < 0) strayEnds.push({ line, number: part.number });
          else {
            for (const { number, head } of open.splice(at + 1)) loops.push({ number, head, end: -1 });
            const [{ number, head }] = open.splice(at);
            loops.push({ number, head, end: line });
          }
        }
      }
    });
    for (const { number, head } of open) loops.push({ number, head, end: -1 });
    loops.sort((a, b) => a.head - b.head);
    this.readLoops = { loops, strayEnds };
    return this.readLoops;
  }
}

const FLOW_TEXT = /IF|WHILE|DO|END|GOTO|M0*(?:9[89]|17|30|2)(?!\d)|G6[567]/i;

/**
 * What of a line an edit must leave alone for the flow to stay as it is: its sequence or program number, and the whole
 * text where it jumps, loops, calls or ends. Empty for other lines.
 */
export const flowSignature = (line: string, localCallCode: number): string => {
  const bare = line.replace(/\([^)]*\)?|;.*/g, '').replace(/\s+/g, '');
  const isFlow = FLOW_TEXT.test(bare) || (localCallCode >= 0 && bare.toUpperCase().includes(`M${localCallCode}`));
  if (isFlow) return bare.toUpperCase();
  const head = NUMBERED.exec(bare);
  return head === null ? '' : `${head[1].toUpperCase()}${Number(head[2])}`;
};

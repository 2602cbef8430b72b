/**
 * Executes a part of a program with changed words, without touching the program: what a repair would lead to. Lengths mm,
 * angles radians.
 */
import type { ArcFacts } from '../../machine/arcFacts.ts';
import type { Configuration } from '../../machine/configuration.ts';
import { Mode, type ModePool } from '../../machine/modes.ts';
import { EXTRA_WIDTH, MoveFlag, MoveKind, type MoveTable } from '../../machine/moves.ts';
import { planeOf } from '../../machine/planes.ts';
import { lastTangent } from '../../machine/tangent.ts';
import { Block } from '../../syntax/block.ts';
import { splitIntoChunks } from '../../text/lineChunk.ts';
import { ChunkRunner } from '../chunkRun.ts';
import { severityOf } from '../findings.ts';
import { RULES } from '../rules.ts';
import type { Segment, SegmentEntry } from '../segment.ts';
import { motionBehind, startTangent } from '../support/arcNeighbours.ts';

/** A change of text in a line of the program; columns from 0, `endColumn` exclusive. */
export interface LineEdit {
  readonly line: number;
  readonly column: number;
  readonly endColumn: number;
  readonly text: string;
}

/** What a trial needs of the program. */
export interface TrialSource {
  readonly lineCount: number;
  lineText(line: number): string;
  /** The machine before a line; undefined for a line that is never reached. */
  entryBefore(line: number): SegmentEntry | undefined;
}

/** An arc as it came out. */
export interface DrawnArc {
  readonly plane: number;
  readonly first: number;
  readonly second: number;
  readonly centre: readonly [first: number, second: number];
  readonly radius: number;
  readonly sweep: number;
  readonly end: readonly number[];
}

/** What a trial came to. */
export interface Outcome {
  /** Codes of the errors by line, such as `12 feed-missing`. */
  readonly errors: ReadonlySet<string>;
  /** Codes of all findings in the arc's own line. */
  readonly ofArc: ReadonlySet<string>;
  /** The arc, where one was drawn. */
  readonly arc: DrawnArc | undefined;
  /** How many of the two neighbours it joins smoothly. */
  readonly joins: number;
  /** Directions of the neighbours in the plane where they are cut straight or in an arc; NaN else. */
  readonly before: readonly [number, number];
  readonly behind: readonly [number, number];
  /** Length of all that is cut, mm. */
  readonly length: number;
  /** Id of the modes at the end. */
  readonly modes: number;
}

/** Two directions within 3° join smoothly. */
const SMOOTH = Math.cos((3 * Math.PI) / 180);

/** Runs trials under one configuration. */
export class Trials {
  /** How many blocks were executed. */
  blocks = 0;
  private readonly source: TrialSource;
  private readonly configuration: Configuration;
  private readonly pool: ModePool;
  private readonly runner: ChunkRunner;
  private readonly entries = new Map<number, SegmentEntry | undefined>();

  constructor(configuration: Configuration, pool: ModePool, source: TrialSource) {
    this.configuration = configuration;
    this.pool = pool;
    this.source = source;
    this.runner = new ChunkRunner(configuration, pool);
  }

  /** What is known of the arc that was executed last. */
  get arc(): ArcFacts {
    return this.runner.judge.executor.arc;
  }

  /** One mode of a set. */
  mode(id: number, field: number): number {
    return this.pool.at(id, field);
  }

  /** The state before a line. */
  entryBefore(line: number): SegmentEntry | undefined {
    if (!this.entries.has(line)) this.entries.set(line, this.source.entryBefore(line));
    return this.entries.get(line);
  }

  /** The words of a line as they are computed there. */
  read(line: number): Block {
    const block = new Block();
    const text = this.source.lineText(line);
    const entry = this.entryBefore(line);
    if (entry !== undefined) this.runner.variables.restore(entry.variables);
    this.runner.reader.read(text, 0, text.length, block, this.runner.variables);
    return block;
  }

  /** Executes lines `from` to `to` (inclusive) with edits; the arc stands in line `arcLine`. */
  run(from: number, to: number, arcLine: number, edits: readonly LineEdit[]): Outcome | undefined {
    const segment = this.segment(from, to, edits);
    return segment && this.outcome(segment, from, arcLine);
  }

  /** Executes lines `from` to `to` (inclusive) with edits, up to a jump, a call or the program's end. */
  segment(from: number, to: number, edits: readonly LineEdit[]): Segment | undefined {
    const entry = this.entryBefore(from);
    if (entry === undefined) return undefined;
    const last = Math.min(to, this.source.lineCount - 1);
    const lines: string[] = [];
    for (let line = from; line <= last; line++) lines.push(editedLine(this.source.lineText(line), line, edits));
    const [chunk] = splitIntoChunks(lines.join('\n'), true, lines.length + 1);
    const stretch = { first: 0, most: lines.length, pass: 1, inFlow: true };
    const segment = this.runner.run(chunk, stretch, entry, undefined, undefined);
    this.blocks += segment.blockCount;
    return segment;
  }

  private outcome(segment: Segment, from: number, arcLine: number): Outcome {
    const errors = new Set<string>();
    const ofArc = new Set<string>();
    for (const { rule, message, line } of segment.findings) {
      const { code } = RULES[rule];
      if (line + from === arcLine) ofArc.add(code);
      if (severityOf(rule, message, this.configuration.profile, {}) === 'error') errors.add(`${line + from} ${code}`);
    }
    const modes = segment.blockCount > 0 ? segment.modesAfter[segment.blockCount - 1] : segment.entry.modes;
    const drawn = this.drawnArc(segment, arcLine - from);
    return { errors, ofArc, length: lengthOf(segment), modes, ...drawn };
  }

  /** The arc of a line, with how it lies between its neighbours. */
  private drawnArc(segment: Segment, line: number): Pick<Outcome, 'arc' | 'joins' | 'before' | 'behind'> {
    const moves =
      segment.contour !== undefined && arcMove(segment.contour, line) >= 0 ? segment.contour : segment.moves;
    const move = moveOf(moves, line);
    const nothing: readonly [number, number] = [Number.NaN, Number.NaN];
    if (move < 0) return { arc: undefined, joins: 0, before: nothing, behind: nothing };
    const { position, tangent } = segment.entry;
    const plane = planeOf(this.pool.at(moves.modes[move], Mode.plane));
    const inPlane = (): readonly [number, number] => unit(direction[plane.first], direction[plane.second]);
    lastTangent(moves, move, position, tangent, this.pool, direction);
    const before = inPlane();
    const follower = motionBehind(moves, move);
    if (follower < moves.count) startTangent(moves, follower, position, this.pool, direction);
    else direction.fill(Number.NaN);
    const behind = inPlane();
    if ((moves.kinds[move] & MoveFlag.kindMask) !== MoveKind.arc) return { arc: undefined, joins: 0, before, behind };
    startTangent(moves, move, position, this.pool, direction);
    const setsOff = inPlane();
    lastTangent(moves, move + 1, position, tangent, this.pool, direction);
    const arrives = inPlane();
    const at = moves.firstExtra(move) * EXTRA_WIDTH;
    const [centreFirst, centreSecond, radius, , sweep] = moves.extras.subarray(at, at + EXTRA_WIDTH);
    const arc: DrawnArc = {
      plane: plane.code,
      first: plane.first,
      second: plane.second,
      centre: [centreFirst, centreSecond],
      radius,
      sweep,
      end: [...moves.ends.subarray(move * 3, move * 3 + 3)],
    };
    return { arc, joins: Number(joins(before, setsOff)) + Number(joins(arrives, behind)), before, behind };
  }
}

const direction = new Float64Array(3);

const joins = (a: readonly [number, number], b: readonly [number, number]): boolean =>
  a[0] * b[0] + a[1] * b[1] >= SMOOTH;

/** A direction in the plane with length 1; NaN where it leads mostly out of it. */
const unit = (first: number, second: number): readonly [number, number] => {
  const length = Math.hypot(first, second);
  return length > 0.3 ? [first / length, second / length] : [Number.NaN, Number.NaN];
};

/** The last move of a line that cuts, −1 without. */
const moveOf = (moves: MoveTable, line: number): number => {
  for (let move = moves.firstOfLine(line + 1) - 1; move >= 0 && moves.lines[move] === line; move--) {
    const kind = moves.kinds[move] & MoveFlag.kindMask;
    if (kind === MoveKind.arc || kind === MoveKind.line) return move;
  }
  return -1;
};

const arcMove = (moves: MoveTable, line: number): number => {
  const move = moveOf(moves, line);
  return move >= 0 && (moves.kinds[move] & MoveFlag.kindMask) === MoveKind.arc ? move : -1;
};

/** A line with the edits that are its own, which do not overlap. */
export const editedLine = (text: string, line: number, edits: readonly LineEdit[]): string => {
  const own = edits.filter((edit) => edit.line === line);
  if (own.length === 0) return text;
  own.sort((a, b) => b.column - a.column);
  let changed = text;
  for (const { column, endColumn, text: by } of own) changed = changed.slice(0, column) + by + changed.slice(endColumn);
  return changed;
};

/** Length of what is cut in a segment, in the plane for arcs; unknown moves count nothing. */
const lengthOf = ({ moves, entry }: Segment): number => {
  let length = 0;
  let extra = 0;
  for (let move = 0; move < moves.count; move++) {
    const kind = moves.kinds[move] & MoveFlag.kindMask;
    while (extra < moves.extraCount && moves.extraMoves[extra] < move) extra++;
    let way = 0;
    if (kind === MoveKind.arc) {
      way = Math.abs(moves.extras[extra * EXTRA_WIDTH + 2] * moves.extras[extra * EXTRA_WIDTH + 4]);
    } else if (kind === MoveKind.line) {
      let square = 0;
      for (let axis = 0; axis < 3; axis++) {
        const from = move === 0 ? entry.position[axis] : moves.ends[move * 3 - 3 + axis];
        square += (moves.ends[move * 3 + axis] - from) ** 2;
      }
      way = Math.sqrt(square);
    }
    if (Number.isFinite(way)) length += way;
  }
  return length;
};

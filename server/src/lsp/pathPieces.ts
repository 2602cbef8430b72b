/**
 * Groups the program's chunks of lines into pieces of the path of about one megabyte, and gives each piece an id that
 * stays the same as long as its content does, so that after an edit only what changed is sent again.
 */

import { FactKind } from '../core/checks/facts.ts';
import type { KeptNotes } from '../core/checks/passNotes.ts';
import type { StopLine } from '../core/checks/stopLines.ts';
import { fillSeconds, type PathClock } from '../core/features/pathClock.ts';
import { type PartSums, sumPart } from '../core/features/pathSections.ts';
import { RunSections } from '../core/features/pathSectionsOfRun.ts';
import { type PlacedSpans, placedStops, type RunSpan } from '../core/features/pathStops.ts';
import { MAX_VERTICES, pieceWeight } from '../core/geometry/packedLayout.ts';
import { type PathMeaning, type PathSpan, packPath } from '../core/geometry/packedPath.ts';
import { RowInterner } from '../core/geometry/packedPathRows.ts';
import { createPackedTimes } from '../core/geometry/packedPathTimes.ts';
import { axesNeverKnown, countVertices, type PathMoves, splitMoves } from '../core/geometry/pathMoves.ts';
import type { PathPiece } from '../core/geometry/pathRequest.ts';
import type { PathSummary } from '../core/geometry/pathSummary.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../core/machine/configuration.ts';
import type { ModePool } from '../core/machine/modes.ts';
import { clockOf, meaningOf, TREATMENTS } from './pathMeaning.ts';

/** A segment of the analysis, as far as the path needs it. */
export interface PathSegment extends Pick<KeptNotes, 'again' | 'stops'> {
  readonly entry: { readonly position: Float64Array };
  readonly moves: PathMoves;
  /** The programmed contour, where radius compensation leads the cutter beside it. */
  readonly contour?: PathMoves | undefined;
  /** Line of the segment's first line, counted from the chunk's first line; 0 where it is not given. */
  readonly firstLine?: number;
  /** 1 for the first pass through its lines, also where it is not given. */
  readonly pass?: number;
  /** Lines that it was run from; those of its chunk where it is not given. */
  readonly blockCount?: number;
  readonly facts?: readonly { readonly kind: number; readonly line: number; readonly a: number }[];
}

/** A chunk of lines of the analysis. `version` changes when its moves do. */
export interface PathChunk {
  readonly version: number;
  readonly lineCount: number;
  readonly segments: readonly PathSegment[];
  /** Part of a run with jumps: its lines count from the program's first line, and it shares no piece with other chunks. */
  readonly inFlow?: boolean;
  /** The lines as written, where they are at hand: for the stops, which no move tells of. */
  readonly text?: { text(): string };
}

/** What of the analysis the path is built from. */
export interface PathSource {
  readonly chunks: readonly PathChunk[];
  chunkFirstLine(index: number): number;
  readonly modePool: ModePool;
}

/** A part of a chunk that goes into a piece as a whole. */
interface Unit {
  readonly chunk: PathChunk;
  readonly part: number;
  /** Tells its moves from all others; the chunk's line count is not in it. */
  readonly name: string;
  readonly vertices: number;
  /** Vertices and rows together, in vertices. */
  readonly weight: number;
  readonly spans: PlacedSpans['spans'];
  /** What it comes to; the contour, which is not run, comes to nothing. */
  readonly sums: PartSums;
  readonly toolChanges: readonly { readonly line: number; readonly tool: number }[];
}

/** A unit in a piece, with what its chunk was when the piece was listed. */
interface ListedUnit {
  readonly unit: Unit;
  /** Place of its chunk. */
  readonly index: number;
  readonly version: number;
  readonly lineCount: number;
}

interface Counted {
  readonly version: number;
  readonly units: readonly Unit[];
}

/** What the chunks are looked at with. */
interface Reading {
  readonly pool: ModePool;
  readonly clock: PathClock;
  readonly meaning: PathMeaning;
  readonly interner: RowInterner;
}

const NO_SUMS: PartSums = { sections: [], offsets: [] };

/** The pieces of one program's path, or of the contour that it programs. */
export class PathPieces {
  private readonly serials = new WeakMap<PathChunk, number>();
  private readonly counted = new WeakMap<PathChunk, Counted>();
  /** Chunks that begin a piece; they go on doing so, or one inserted line would shift all pieces behind it. */
  private readonly heads = new WeakSet<PathChunk>();
  private readonly isContour: boolean;
  private ids = new Map<string, number>();
  private pieces = new Map<number, { readonly units: readonly ListedUnit[]; readonly start: number }>();
  private lastSerial = 0;
  private lastId = 0;
  private assumedAxes = 0;
  /** What the run came to when the pieces were listed last. */
  private run = new RunSections();
  private parts: PlacedSpans[] = [];
  /** The rows of the pool of modes in force; another configuration brings another pool. */
  private rows: { readonly pool: ModePool; readonly interner: RowInterner } | undefined;

  constructor(layer: 'program' | 'contour' = 'program') {
    this.isContour = layer === 'contour';
  }

  /** The list of pieces of the program as it is now. */
  list(source: PathSource, configuration: Configuration = DEFAULT_CONFIGURATION): PathPiece[] {
    this.assumedAxes = axesNeverKnown(allMoves(source));
    const ids = new Map<string, number>();
    const pieces = new Map<number, { units: readonly ListedUnit[]; start: number }>();
    const list: PathPiece[] = [];
    this.run = new RunSections();
    this.parts = [];
    for (const units of this.group(source, this.reading(source, configuration))) {
      const signature = this.signature(units);
      const id = this.ids.get(signature) ?? ++this.lastId;
      const vertices = units.reduce((sum, { unit }) => sum + unit.vertices, 0);
      if (this.isContour && vertices === 0) continue;
      const start = this.run.seconds;
      ids.set(signature, id);
      pieces.set(id, { units, start });
      this.addToRun(source, id, units);
      const firstLine = source.chunkFirstLine(units[0].index);
      list.push({ id, firstLine, vertices, seconds: this.run.seconds - start });
    }
    this.ids = ids;
    this.pieces = pieces;
    return list;
  }

  /** What the run of the last list comes to; `stops` are the blocks that it may stop at, `stopped` why it is not whole. */
  summary(
    source: PathSource,
    configuration: Configuration,
    stops: readonly StopLine[],
    stopped: PathSummary['stopped'],
  ): PathSummary {
    const { clock } = this.reading(source, configuration);
    const knowsMessages = configuration.profile.systemVariables === 'macro';
    const run = stops.filter(({ canBeLeftOut }) => !canBeLeftOut || configuration.blockDelete !== 'skip');
    const placed = placedStops(this.parts, run, TREATMENTS, clock).filter(
      ({ kind }) => kind !== 'message' || knowsMessages,
    );
    return this.run.summary(configuration, source.modePool, placed, stopped);
  }

  /** Builds a piece of the last list; `undefined` if there is none with this id or its content has changed since. */
  pack(source: PathSource, id: number, configuration: Configuration = DEFAULT_CONFIGURATION): ArrayBuffer | undefined {
    const units = this.unitsOfPiece(id);
    if (units === undefined) return undefined;
    const spans: PathSpan[] = [];
    const lineShifts: number[] = [];
    let lineOffset = 0;
    let vertices = 0;
    for (const { unit, lineCount } of units) {
      for (const span of unit.spans) {
        spans.push(span);
        lineShifts.push(lineOffset);
      }
      lineOffset += lineCount;
      vertices += unit.vertices;
    }
    const { meaning, interner } = this.reading(source, configuration);
    return packPath(spans, vertices, meaning, interner, lineShifts).buffer;
  }

  /** The times of a piece of the last list; `undefined` where `pack` gives none, too. */
  packTimes(
    source: PathSource,
    id: number,
    configuration: Configuration = DEFAULT_CONFIGURATION,
  ): ArrayBuffer | undefined {
    const units = this.unitsOfPiece(id);
    if (units === undefined) return undefined;
    const { clock } = this.reading(source, configuration);
    const vertices = units.reduce((sum, { unit }) => sum + unit.vertices, 0);
    const { buffer, seconds } = createPackedTimes(vertices, this.pieces.get(id)?.start ?? 0);
    let at = 0;
    let now = 0;
    for (const { unit } of units) {
      for (const span of unit.spans) {
        now = fillSeconds(span, clock, seconds, at, now);
        at += countVertices(span.moves, TREATMENTS, span.from, span.to);
      }
    }
    return buffer;
  }

  /** The units of a piece, if their content is still what it was when they were listed. */
  private unitsOfPiece(id: number): readonly ListedUnit[] | undefined {
    const units = this.pieces.get(id)?.units;
    const isSame = units?.every(
      ({ unit: { chunk }, version, lineCount }) => chunk.version === version && chunk.lineCount === lineCount,
    );
    return isSame ? units : undefined;
  }

  private reading({ modePool: pool }: PathSource, configuration: Configuration): Reading {
    const clock = clockOf(pool, configuration);
    const meaning = meaningOf(pool, clock, this.assumedAxes);
    if (this.rows?.pool !== pool) this.rows = { pool, interner: new RowInterner(meaning) };
    return { pool, clock, meaning, interner: this.rows.interner };
  }

  private addToRun(source: PathSource, piece: number, units: readonly ListedUnit[]): void {
    let vertex = 0;
    for (const { unit, index } of units) {
      const { sums, toolChanges, vertices, spans } = unit;
      const firstLine = source.chunkFirstLine(index);
      this.parts.push({ piece, vertex, startSeconds: this.run.seconds, firstLine, spans });
      this.run.add({ piece, vertex, firstLine, sums, toolChanges });
      vertex += vertices;
    }
  }

  /** Units in order, those of one piece together. Chunks without moves go along with their neighbours. */
  private group(source: PathSource, reading: Reading): ListedUnit[][] {
    const groups: ListedUnit[][] = [];
    let room = -1;
    source.chunks.forEach((chunk, index) => {
      const units = this.unitsOf(chunk, reading);
      const { version, lineCount } = chunk;
      for (const unit of units) {
        const head = unit.part > 0 || chunk.inFlow || this.heads.has(chunk) || unit.weight > room;
        if (head) {
          groups.push([]);
          room = MAX_VERTICES;
          if (unit.part === 0) this.heads.add(chunk);
        }
        groups[groups.length - 1].push({ unit, index, version, lineCount });
        room -= unit.weight;
      }
      // Behind a chunk in several parts a new piece begins, since line numbers count from the chunk.
      if (units.length > 1) room = 0;
    });
    return groups;
  }

  private unitsOf(chunk: PathChunk, reading: Reading): Counted['units'] {
    const known = this.counted.get(chunk);
    if (known?.version === chunk.version) return known.units;
    const units: Unit[] = [];
    let spans: RunSpan[] = [];
    let changes: { line: number; tool: number }[] = [];
    let vertices = 0;
    let rows = new Set<number>();
    const close = (): void => {
      const sums = this.isContour ? NO_SUMS : sumPart(spans, reading.pool, reading.clock);
      const weight = pieceWeight(vertices, rows.size);
      const part = units.length;
      const name = `${this.serial(chunk)}.${chunk.version}.${part}.`;
      units.push({ chunk, part, name, vertices, weight, spans, sums, toolChanges: changes });
      [spans, changes, vertices, rows] = [[], [], 0, new Set()];
    };
    for (const segment of chunk.segments) {
      const moves = this.isContour ? segment.contour : segment.moves;
      if (moves === undefined || (this.isContour && moves.count === 0)) continue;
      const lineOffset = segment.firstLine ?? 0;
      for (const [from, to, count] of partsOf(moves)) {
        if (vertices > 0 && vertices + count > MAX_VERTICES) close();
        const { entry, pass = 1, blockCount: lineCount = chunk.lineCount } = segment;
        const runs = reading.interner.runsOf(moves, entry.position, from, to, pass);
        spans.push({
          moves,
          entry: entry.position,
          from,
          to,
          lineOffset,
          pass,
          lineCount,
          runs,
          ...(this.isContour ? {} : notesOf(segment)),
        });
        vertices += count;
        for (const row of runs.rows) rows.add(row);
      }
      changes.push(...toolChangesIn(segment, lineOffset));
    }
    close();
    this.counted.set(chunk, { version: chunk.version, units });
    return units;
  }

  private signature(units: readonly ListedUnit[]): string {
    let text = `${this.assumedAxes}`;
    for (const { unit, lineCount } of units) text += ` ${unit.name}${lineCount}`;
    return text;
  }

  private serial(chunk: PathChunk): number {
    const known = this.serials.get(chunk);
    if (known !== undefined) return known;
    this.serials.set(chunk, ++this.lastSerial);
    return this.lastSerial;
  }
}

/** The moves of a segment as [from, to, vertices]: whole, or in parts that each fit into a piece. */
const partsOf = (moves: PathMoves): readonly (readonly [number, number, number])[] => {
  const whole = countVertices(moves, TREATMENTS);
  return whole > MAX_VERTICES ? splitMoves(moves, TREATMENTS, MAX_VERTICES) : [[0, moves.count, whole]];
};

/** What passes left beside their moves. */
const notesOf = ({ again, stops }: PathSegment): Pick<KeptNotes, 'again' | 'stops'> => ({
  ...(again && { again }),
  ...(stops && { stops }),
});

const toolChangesIn = ({ facts = [] }: PathSegment, lineOffset: number): { line: number; tool: number }[] =>
  facts.filter(({ kind }) => kind === FactKind.toolChange).map(({ line, a }) => ({ line: line + lineOffset, tool: a }));

function* allMoves(source: PathSource): Generator<PathMoves> {
  for (const { segments } of source.chunks) for (const { moves } of segments) yield moves;
}

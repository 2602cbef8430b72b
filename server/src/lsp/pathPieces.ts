/**
 * Groups the program's chunks of lines into pieces of the path of about one megabyte, and gives each piece an id that
 * stays the same as long as its content does, so that after an edit only what changed is sent again.
 */

import { MAX_VERTICES } from '../core/geometry/packedLayout.ts';
import { type PathMeaning, type PathSpan, packPath } from '../core/geometry/packedPath.ts';
import { axesNeverKnown, countVertices, type PathMoves, splitMoves, Treatment } from '../core/geometry/pathMoves.ts';
import type { PathPiece } from '../core/geometry/pathRequest.ts';
import { Mode } from '../core/machine/modes.ts';
import { MoveFlag, MoveKind } from '../core/machine/moves.ts';

/** A segment of the analysis, as far as the path needs it. */
export interface PathSegment {
  readonly entry: { readonly position: Float64Array };
  readonly moves: PathMoves;
  /** Line of the segment's first line, counted from the chunk's first line; 0 where it is not given. */
  readonly firstLine?: number;
}

/** A chunk of lines of the analysis. `version` changes when its moves do. */
export interface PathChunk {
  readonly version: number;
  readonly lineCount: number;
  readonly segments: readonly PathSegment[];
  /** Part of a run with jumps: its lines count from the program's first line, and it shares no piece with other chunks. */
  readonly inFlow?: boolean;
}

/** What of the analysis the path is built from. */
export interface PathSource {
  readonly chunks: readonly PathChunk[];
  chunkFirstLine(index: number): number;
  readonly modePool: { at(id: number, field: number): number };
}

/** A part of a chunk that goes into a piece as a whole. */
interface Unit {
  readonly chunk: PathChunk;
  readonly index: number;
  readonly part: number;
  readonly vertices: number;
  readonly spans: readonly PathSpan[];
}

interface Counted {
  readonly version: number;
  readonly units: readonly Omit<Unit, 'index'>[];
}

/** What the kinds of moves mean for the path. */
const TREATMENTS = new Uint8Array(256).map((_, kinds) => {
  const kind = kinds & MoveFlag.kindMask;
  if (kind === MoveKind.rapid) return Treatment.rapid;
  if (kind === MoveKind.line) return Treatment.line;
  if (kind === MoveKind.arc) return Treatment.arc;
  return kind === MoveKind.renamed ? Treatment.renamed : Treatment.hold;
});

/** The pieces of one program's path. */
export class PathPieces {
  private readonly serials = new WeakMap<PathChunk, number>();
  private readonly counted = new WeakMap<PathChunk, Counted>();
  /** Chunks that begin a piece; they go on doing so, or one inserted line would shift all pieces behind it. */
  private readonly heads = new WeakSet<PathChunk>();
  private ids = new Map<string, number>();
  private pieces = new Map<number, readonly Unit[]>();
  private lastSerial = 0;
  private lastId = 0;
  private assumedAxes = 0;

  /** The list of pieces of the program as it is now. */
  list(source: PathSource): PathPiece[] {
    this.assumedAxes = axesNeverKnown(allMoves(source));
    const ids = new Map<string, number>();
    const pieces = new Map<number, readonly Unit[]>();
    const list: PathPiece[] = [];
    for (const units of this.group(source)) {
      const signature = this.signature(units);
      const id = this.ids.get(signature) ?? ++this.lastId;
      ids.set(signature, id);
      pieces.set(id, units);
      const vertices = units.reduce((sum, unit) => sum + unit.vertices, 0);
      list.push({ id, firstLine: source.chunkFirstLine(units[0].index), vertices });
    }
    this.ids = ids;
    this.pieces = pieces;
    return list;
  }

  /** Builds a piece of the last list; `undefined` if there is none with this id or its content has changed since. */
  pack(source: PathSource, id: number): ArrayBuffer | undefined {
    const units = this.pieces.get(id);
    if (units === undefined || this.ids.get(this.signature(units)) !== id) return undefined;
    const spans: PathSpan[] = [];
    let lineOffset = 0;
    let vertices = 0;
    for (const unit of units) {
      for (const span of unit.spans) spans.push({ ...span, lineOffset: span.lineOffset + lineOffset });
      lineOffset += unit.chunk.lineCount;
      vertices += unit.vertices;
    }
    return packPath(spans, vertices, this.meaning(source)).buffer;
  }

  private meaning({ modePool }: PathSource): PathMeaning {
    return {
      treatments: TREATMENTS,
      plane: (modes) => modePool.at(modes, Mode.plane),
      tool: (modes) => modePool.at(modes, Mode.tool),
      assumedAxes: this.assumedAxes,
    };
  }

  /** Units in order, those of one piece together. Chunks without moves go along with their neighbours. */
  private group(source: PathSource): Unit[][] {
    const groups: Unit[][] = [];
    let room = -1;
    source.chunks.forEach((chunk, index) => {
      const units = this.unitsOf(chunk);
      for (const unit of units) {
        const head = unit.part > 0 || chunk.inFlow || this.heads.has(chunk) || unit.vertices > room;
        if (head) {
          groups.push([]);
          room = MAX_VERTICES;
          if (unit.part === 0) this.heads.add(chunk);
        }
        groups[groups.length - 1].push({ ...unit, index });
        room -= unit.vertices;
      }
      // Behind a chunk in several parts a new piece begins, since line numbers count from the chunk.
      if (units.length > 1) room = 0;
    });
    return groups;
  }

  private unitsOf(chunk: PathChunk): Counted['units'] {
    const known = this.counted.get(chunk);
    if (known?.version === chunk.version) return known.units;
    const units: Omit<Unit, 'index'>[] = [];
    let spans: PathSpan[] = [];
    let vertices = 0;
    const close = (): void => {
      units.push({ chunk, part: units.length, vertices, spans });
      spans = [];
      vertices = 0;
    };
    for (const { moves, entry, firstLine } of chunk.segments) {
      const whole = countVertices(moves, TREATMENTS);
      const parts = whole > MAX_VERTICES ? splitMoves(moves, TREATMENTS, MAX_VERTICES) : [[0, moves.count, whole]];
      for (const [from, to, count] of parts) {
        if (vertices > 0 && vertices + count > MAX_VERTICES) close();
        spans.push({ moves, entry: entry.position, from, to, lineOffset: firstLine ?? 0 });
        vertices += count;
      }
    }
    close();
    this.counted.set(chunk, { version: chunk.version, units });
    return units;
  }

  private signature(units: readonly Unit[]): string {
    let text = `${this.assumedAxes}`;
    for (const { chunk, part } of units) {
      text += ` ${this.serial(chunk)}.${chunk.version}.${chunk.lineCount}.${part}`;
    }
    return text;
  }

  private serial(chunk: PathChunk): number {
    const known = this.serials.get(chunk);
    if (known !== undefined) return known;
    this.serials.set(chunk, ++this.lastSerial);
    return this.lastSerial;
  }
}

function* allMoves(source: PathSource): Generator<PathMoves> {
  for (const { segments } of source.chunks) for (const { moves } of segments) yield moves;
}

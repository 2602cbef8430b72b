// The pieces of the path that are shown, and those on their way. An edit changes the picture only when all of the new
// one has come, so that the last good picture stays until then.
import { emptyBounds, type PackedPath, readPackedPath } from '../../server/src/core/geometry/packedLayout.ts';
import { type PackedTimes, readPackedTimes } from '../../server/src/core/geometry/packedPathTimes.ts';
import type { PathFinding, PathIndex, PathPiece } from '../../server/src/core/geometry/pathRequest.ts';
import type { PathSummary } from '../../server/src/core/geometry/pathSummary.ts';

/** A piece that is shown. */
export interface ShownPiece {
  readonly id: number;
  readonly firstLine: number;
  readonly path: PackedPath;
  /** Second of the run at which it starts, and how long it takes. */
  readonly startSeconds: number;
  readonly seconds: number;
  /** Seconds at its vertices, once they have come. */
  readonly times?: PackedTimes | undefined;
}

/** The path of one program. */
export class Picture {
  #shown: readonly ShownPiece[] = [];
  #index: PathIndex | undefined;
  #complete = false;
  readonly #received = new Map<number, PackedPath>();
  readonly #times = new Map<number, PackedTimes>();

  get pieces(): readonly ShownPiece[] {
    return this.#shown;
  }

  /** True once everything of the newest list is shown. */
  get complete(): boolean {
    return this.#complete;
  }

  get inch(): boolean {
    return this.#index?.inch ?? false;
  }

  get findings(): readonly PathFinding[] {
    return this.#index?.findings ?? [];
  }

  get unplaced(): number {
    return this.#index?.unplaced ?? 0;
  }

  /** What the run of the newest list comes to. */
  get summary(): PathSummary | undefined {
    return this.#index?.summary;
  }

  /** Forgets everything: another program comes. */
  clear(): void {
    this.#shown = [];
    this.#index = undefined;
    this.#complete = false;
    this.#received.clear();
    this.#times.clear();
  }

  /** A newer list of pieces. True if what is shown has changed. */
  takeIndex(index: PathIndex): boolean {
    this.#index = index;
    const wanted = new Set(index.pieces.map(({ id }) => id));
    const shown = new Set(this.#shown.map(({ id }) => id));
    for (const id of this.#received.keys()) {
      if (!wanted.has(id) && !shown.has(id)) {
        this.#forget(id);
      }
    }
    this.#complete = false;
    return this.#show();
  }

  /** A piece has come. True if what is shown has changed. */
  takePiece(id: number, data: ArrayBuffer): boolean {
    const path = readPackedPath(data);
    if (!path || !this.#index?.pieces.some((piece) => piece.id === id)) {
      return false;
    }
    this.#received.set(id, path);
    return this.#show();
  }

  /** The times of a piece have come; true if that piece is shown. */
  takeTimes(id: number, data: ArrayBuffer): boolean {
    const times = readPackedTimes(data);
    if (!times || this.#received.get(id)?.vertexCount !== times.seconds.length) {
      return false;
    }
    this.#times.set(id, times);
    this.#shown = this.#shown.map((piece) => (piece.id === id ? { ...piece, times } : piece));
    return this.#shown.some((piece) => piece.id === id);
  }

  /** Shows the newest list if all of it is there; a first picture is shown as it comes. */
  #show(): boolean {
    const wanted = this.#index?.pieces ?? [];
    const here = wanted.filter(({ id }) => this.#received.has(id));
    const all = here.length === wanted.length;
    // Nothing that can be seen would be missing: so it is also where a program that had not been run yet had an empty piece.
    const first = this.#shown.every(
      ({ id, path }) => !(path.bounds[0] <= path.bounds[3]) || here.some((piece) => piece.id === id),
    );
    if (!all && !first) {
      return false;
    }
    this.#complete = all;
    this.#shown = this.#shownOf(wanted);
    if (all) {
      const kept = new Set(here.map(({ id }) => id));
      for (const id of [...this.#received.keys()].filter((known) => !kept.has(known))) {
        this.#forget(id);
      }
    }
    return true;
  }

  /** The pieces that are here, each with its start: that of the piece before it, so much later. */
  #shownOf(wanted: readonly PathPiece[]): ShownPiece[] {
    const shown: ShownPiece[] = [];
    let startSeconds = 0;
    for (const { id, firstLine, seconds } of wanted) {
      const path = this.#received.get(id);
      if (path) {
        shown.push({ id, firstLine, path, startSeconds, seconds, times: this.#times.get(id) });
      }
      startSeconds += seconds;
    }
    return shown;
  }

  #forget(id: number): void {
    this.#received.delete(id);
    this.#times.delete(id);
  }

  /** Least and greatest X Y Z of everything drawn, or of what is cut at feed; least above greatest where that is nothing. */
  bounds(which: 'bounds' | 'cutBounds'): Float64Array {
    const all = emptyBounds();
    for (const { path } of this.#shown) {
      for (let axis = 0; axis < 3; axis++) {
        all[axis] = Math.min(all[axis], path[which][axis]);
        all[axis + 3] = Math.max(all[axis + 3], path[which][axis + 3]);
      }
    }
    return all;
  }

  /** Bits 1 2 4: X, Y, Z is never given and drawn at zero. */
  get assumedAxes(): number {
    return this.#shown.reduce((axes, { path }) => axes | path.assumedAxes, 0);
  }
}

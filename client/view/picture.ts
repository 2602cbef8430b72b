// The pieces of the path that are shown, and those on their way. An edit changes the picture only when all of the new
// one has come, so that the last good picture stays until then.
import { emptyBounds, type PackedPath, readPackedPath } from '../../server/src/core/geometry/packedLayout.ts';
import type { PathFinding, PathIndex } from '../../server/src/core/geometry/pathRequest.ts';

/** A piece that is shown. */
export interface ShownPiece {
  readonly id: number;
  readonly firstLine: number;
  readonly path: PackedPath;
}

/** The path of one program. */
export class Picture {
  #shown: readonly ShownPiece[] = [];
  #index: PathIndex | undefined;
  #complete = false;
  readonly #received = new Map<number, PackedPath>();

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

  /** Forgets everything: another program comes. */
  clear(): void {
    this.#shown = [];
    this.#index = undefined;
    this.#complete = false;
    this.#received.clear();
  }

  /** A newer list of pieces. True if what is shown has changed. */
  takeIndex(index: PathIndex): boolean {
    this.#index = index;
    const wanted = new Set(index.pieces.map(({ id }) => id));
    const shown = new Set(this.#shown.map(({ id }) => id));
    for (const id of this.#received.keys()) {
      if (!wanted.has(id) && !shown.has(id)) {
        this.#received.delete(id);
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

  /** Shows the newest list if all of it is there; a first picture is shown as it comes. */
  #show(): boolean {
    const wanted = this.#index?.pieces ?? [];
    const here = wanted.filter(({ id }) => this.#received.has(id));
    const all = here.length === wanted.length;
    const first = this.#shown.every(({ id }) => here.some((piece) => piece.id === id));
    if (!all && !first) {
      return false;
    }
    this.#complete = all;
    this.#shown = here.map(({ id, firstLine }) => ({ id, firstLine, path: this.#received.get(id) as PackedPath }));
    if (all) {
      const kept = new Set(here.map(({ id }) => id));
      for (const id of [...this.#received.keys()].filter((known) => !kept.has(known))) {
        this.#received.delete(id);
      }
    }
    return true;
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

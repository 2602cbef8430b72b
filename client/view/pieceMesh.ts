// A piece of the path as a mesh of one rectangle a way; the piece's own arrays go to the graphics card as they came.
import {
  BufferAttribute,
  DataTexture,
  DoubleSide,
  GLSL3,
  InstancedBufferAttribute,
  InstancedBufferGeometry,
  InstancedInterleavedBuffer,
  InterleavedBufferAttribute,
  type IUniform,
  LineSegments,
  Mesh,
  RawShaderMaterial,
  Sphere,
  Vector3,
} from 'three';
import type { PackedPath } from '../../server/src/core/geometry/packedLayout.ts';
import type { PackedTimes } from '../../server/src/core/geometry/packedPathTimes.ts';
import { rowColours, type Scale } from './colouredBy.ts';
import { fragmentShader, Look, vertexShader } from './shaders.ts';
import type { Theme } from './theme.ts';
import type { Hidden } from './toolSections.ts';

/** Numbers and textures that shaders get, by name. */
export type Uniforms = Record<string, IUniform>;

/** More ways than a piece can have. */
export const ALL_WAYS = 0x7fffffff;

/** Walked so far, mm, the count of dots starts again: a shader's numbers are short. */
const WALKED_LIMIT = 1000;

/** Entries of the index: two triangles with the line's width, then one line along. */
const INDEX = [0, 1, 2, 0, 2, 3, 4, 5];
const WIDE = { start: 0, count: 6 };
const THIN = { start: 6, count: 2 };
/** Where across its width the thin line runs: the middle of a helix is left out, and the edges of an arc are pale. */
const THIN_PLACE = 0.36;

/** The mesh of one piece. */
export class PieceMesh {
  /** What is drawn, wide and thin; both have the same buffers. */
  readonly drawn: readonly [Mesh<InstancedBufferGeometry, RawShaderMaterial>, LineSegments];
  readonly #geometry: InstancedBufferGeometry;
  readonly #material: RawShaderMaterial;
  readonly #path: PackedPath;
  readonly #uniforms: Uniforms;
  readonly #isEmpty: boolean;
  #rowTexture: DataTexture | undefined;
  #hidden: Hidden = 'nothing';
  #isThin = false;
  #times: PackedTimes | undefined;
  /** What the table of row colours was made for. */
  #coloured: { readonly scale: Scale; readonly theme: Theme } | undefined;

  /** `look` is a `Look`; what `shared` holds is the same for all meshes. */
  constructor(path: PackedPath, shared: Uniforms, look: number) {
    this.#path = path;
    const { bounds, origin } = path;
    this.#uniforms = {
      ...shared,
      look: { value: look },
      litFirst: { value: 1 },
      litLast: { value: 0 },
      startSeconds: { value: 0 },
      ranWays: { value: ALL_WAYS },
      ranPart: { value: 0 },
      rowColours: { value: null },
    };
    const uniforms = this.#uniforms;
    const material = new RawShaderMaterial({
      glslVersion: GLSL3,
      vertexShader,
      fragmentShader,
      uniforms,
      side: DoubleSide,
    });
    this.#geometry = geometryOf(path, look);
    this.#material = material;
    this.drawn = [new Mesh(this.#geometry, material), new LineSegments(this.#geometry, material)];
    for (const one of this.drawn) {
      one.position.fromArray(origin);
    }
    // A piece of which nothing is drawn has no bounds to look at.
    this.#isEmpty = !(bounds[0] <= bounds[3]);
    this.#show();
  }

  /** Draws lines of one pixel, which is quicker, or of their width. */
  thin(isThin: boolean): void {
    if (isThin !== this.#isThin) {
      this.#isThin = isThin;
      this.#show();
    }
  }

  #show(): void {
    const [wide, thin] = this.drawn;
    const isSeen = !this.#isEmpty && this.#hidden !== 'all';
    wide.visible = isSeen && !this.#isThin;
    thin.visible = isSeen && this.#isThin;
    const { start, count } = this.#isThin ? THIN : WIDE;
    this.#geometry.setDrawRange(start, count);
  }

  /** Lights lines, counted from the piece's first. */
  light(first: number, last: number): void {
    this.#uniforms.litFirst.value = first;
    this.#uniforms.litLast.value = last;
  }

  /** So many ways are behind the tool, and that part of the next one, 0 to 1. */
  run(ways: number, part: number): void {
    this.#uniforms.ranWays.value = ways;
    this.#uniforms.ranPart.value = part;
  }

  /** Leaves ways out. */
  hide(hidden: Hidden): void {
    if (hidden === this.#hidden) {
      return;
    }
    this.#hidden = hidden;
    this.#show();
    if (hidden instanceof Uint8Array) {
      this.#geometry.setAttribute('hidden', perWay(hidden, 1));
    } else {
      this.#geometry.deleteAttribute('hidden');
    }
  }

  /** The colour of each row, for colours by what a row says. */
  colourRows(scale: Scale, theme: Theme): void {
    if (this.#coloured?.scale === scale && this.#coloured.theme === theme) {
      return;
    }
    this.#coloured = { scale, theme };
    if (!this.#geometry.hasAttribute('row')) {
      this.#geometry.setAttribute('row', perWay(this.#path.rowOf, 1));
    }
    const { data, width } = rowColours(this.#path, scale, theme);
    this.#rowTexture?.dispose();
    this.#rowTexture = new DataTexture(data, width, data.length / 4 / width);
    this.#rowTexture.needsUpdate = true;
    this.#uniforms.rowColours.value = this.#rowTexture;
  }

  /** Seconds at the vertices and at which second of the run the piece starts, for colours by time. */
  time(times: PackedTimes | undefined, startSeconds: number): void {
    this.#uniforms.startSeconds.value = startSeconds;
    if (times && times !== this.#times) {
      this.#times = times;
      const seconds = new InstancedInterleavedBuffer(Float32Array.from(times.seconds), 1);
      this.#geometry.setAttribute('fromSeconds', new InterleavedBufferAttribute(seconds, 1, 0));
      this.#geometry.setAttribute('toSeconds', new InterleavedBufferAttribute(seconds, 1, 1));
    }
  }

  dispose(): void {
    this.#geometry.dispose();
    this.#material.dispose();
    this.#rowTexture?.dispose();
  }
}

/** Numbers a vertex as numbers a way: those of the vertex that the way leads to. */
const perWay = (numbers: Uint8Array | Uint16Array | Uint32Array, size: number): InterleavedBufferAttribute =>
  new InterleavedBufferAttribute(new InstancedInterleavedBuffer(numbers, size), size, size);

function geometryOf(path: PackedPath, look: number): InstancedBufferGeometry {
  const geometry = new InstancedBufferGeometry();
  const points = new InstancedInterleavedBuffer(path.positions, 3);
  geometry.setAttribute(
    'corner',
    new BufferAttribute(Float32Array.of(0, -1, 1, -1, 1, 1, 0, 1, 0, THIN_PLACE, 1, THIN_PLACE), 2),
  );
  geometry.setIndex(INDEX);
  geometry.setAttribute('start', new InterleavedBufferAttribute(points, 3, 0));
  // The same buffer, one vertex on.
  geometry.setAttribute('end', new InterleavedBufferAttribute(points, 3, 3));
  geometry.setAttribute('code', perWay(path.codes, 1));
  if (look !== Look.own) {
    geometry.setAttribute('walked', new InstancedBufferAttribute(walkedLengths(path), 1));
  }
  geometry.instanceCount = path.vertexCount - 1;
  const { bounds, origin } = path;
  const least = new Vector3(bounds[0], bounds[1], bounds[2]);
  const greatest = new Vector3(bounds[3], bounds[4], bounds[5]);
  const centre = least.clone().add(greatest).multiplyScalar(0.5).sub(new Vector3().fromArray(origin));
  geometry.boundingSphere = new Sphere(centre, least.distanceTo(greatest) / 2 + 1e-3);
  return geometry;
}

/** How far it is along the path to the start of each way, mm. */
function walkedLengths({ positions, vertexCount }: PackedPath): Float32Array {
  const lengths = new Float32Array(Math.max(0, vertexCount - 1));
  for (let way = 1; way < lengths.length; way++) {
    const at = 3 * way;
    const length = Math.hypot(
      positions[at] - positions[at - 3],
      positions[at + 1] - positions[at - 2],
      positions[at + 2] - positions[at - 1],
    );
    const walked = lengths[way - 1] + length;
    lengths[way] = walked < WALKED_LIMIT ? walked : 0;
  }
  return lengths;
}

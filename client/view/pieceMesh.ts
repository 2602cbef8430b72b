// A piece of the path as a mesh of one rectangle a way, or as a strip of lines one pixel wide; the piece's own arrays go to
// the graphics card as they came.
import {
  BufferAttribute,
  BufferGeometry,
  DataTexture,
  DoubleSide,
  GLSL3,
  Group,
  InstancedBufferAttribute,
  InstancedBufferGeometry,
  InstancedInterleavedBuffer,
  InterleavedBufferAttribute,
  type IUniform,
  Line,
  Mesh,
  RawShaderMaterial,
  Sphere,
  Vector3,
} from 'three';
import type { PackedPath } from '../../server/src/core/geometry/packedLayout.ts';
import type { PackedTimes } from '../../server/src/core/geometry/packedPathTimes.ts';
import { rowColours, type Scale } from './colouredBy.ts';
import { fragmentShader, Look, vertexShader } from './shaders.ts';
import { stripFragmentShader, stripVertexShader } from './stripShaders.ts';
import type { Theme } from './theme.ts';
import { thinned } from './thinned.ts';
import type { Hidden } from './toolSections.ts';

/** Numbers and textures that shaders get, by name. */
export type Uniforms = Record<string, IUniform>;

/** More ways than a piece can have. */
export const ALL_WAYS = 0x7fffffff;

/** Walked so far, mm, the count of dots starts again: a shader's numbers are short. */
const WALKED_LIMIT = 1000;

/** Numbers a vertex that are there only where they are needed, and what the shaders call them. */
type Extra = 'hidden' | 'row' | 'seconds';
type Numbers = Uint8Array | Uint16Array | Float32Array;

/** The mesh of one piece. */
export class PieceMesh {
  /** What is drawn. */
  readonly drawn = new Group();
  readonly #path: PackedPath;
  readonly #look: number;
  readonly #uniforms: Uniforms;
  readonly #isEmpty: boolean;
  readonly #extras = new Map<Extra, Numbers>();
  /** Each is made when it is drawn first: it has the card's memory for itself. */
  #wide: Mesh<InstancedBufferGeometry, RawShaderMaterial> | undefined;
  #thin: Line<BufferGeometry, RawShaderMaterial> | undefined;
  #rowTexture: DataTexture | undefined;
  #hidden: Hidden = 'nothing';
  /** What may be left out of thin lines, mm; undefined: the lines have their width. */
  #thinness: number | undefined;
  /** What is left out of the strip now, mm. */
  #leftOut = 0;
  #times: PackedTimes | undefined;
  /** What the table of row colours was made for. */
  #coloured: { readonly scale: Scale; readonly theme: Theme } | undefined;

  /** `look` is a `Look`; what `shared` holds is the same for all meshes. Only the program's own path can be thin. */
  constructor(path: PackedPath, shared: Uniforms, look: number, thinness?: number) {
    this.#path = path;
    this.#look = look;
    this.#thinness = thinness;
    const { bounds, origin } = path;
    this.#uniforms = {
      ...shared,
      look: { value: look },
      litFirst: { value: 1 },
      litLast: { value: 0 },
      goneFirst: { value: 1 },
      goneLast: { value: 0 },
      startSeconds: { value: 0 },
      ranWays: { value: ALL_WAYS },
      ranPart: { value: 0 },
      rowColours: { value: null },
    };
    this.drawn.position.fromArray(origin);
    // A piece of which nothing is drawn has no bounds to look at.
    this.#isEmpty = !(bounds[0] <= bounds[3]);
    this.#show();
  }

  /** Draws lines of one pixel, which is quicker, without what may be left out, mm; `undefined`: of their width. */
  thin(thinness: number | undefined): void {
    if (thinness !== this.#thinness) {
      this.#thinness = thinness;
      this.#show();
    }
  }

  #show(): void {
    const isThin = this.#thinness !== undefined;
    this.drawn.visible = !this.#isEmpty && this.#hidden !== 'all';
    if (this.drawn.visible && !(isThin ? this.#thin : this.#wide)) {
      this.#make(isThin);
    }
    if (this.#wide) {
      this.#wide.visible = !isThin;
    }
    if (this.#thin) {
      this.#thin.visible = isThin;
      this.#leaveOut(this.#thin.geometry);
    }
  }

  #leaveOut(strip: BufferGeometry): void {
    const thinness = this.#thinness;
    if (thinness === undefined || thinness === this.#leftOut) {
      return;
    }
    this.#leftOut = thinness;
    strip.setIndex(thinness > 0 ? new BufferAttribute(thinned(this.#path, thinness), 1) : null);
  }

  /** Makes what is to be drawn now and has never been drawn. */
  #make(isThin: boolean): void {
    const uniforms = this.#uniforms;
    if (isThin) {
      const shaders = { vertexShader: stripVertexShader, fragmentShader: stripFragmentShader };
      const material = new RawShaderMaterial({ glslVersion: GLSL3, ...shaders, uniforms });
      this.#thin = new Line(stripOf(this.#path), material);
      this.drawn.add(this.#thin);
    } else {
      const material = new RawShaderMaterial({
        glslVersion: GLSL3,
        vertexShader,
        fragmentShader,
        uniforms,
        side: DoubleSide,
      });
      this.#wide = new Mesh(rectanglesOf(this.#path, this.#look), material);
      this.drawn.add(this.#wide);
    }
    for (const [name, numbers] of this.#extras) {
      this.#attach(name, numbers);
    }
  }

  #give(name: Extra, numbers: Numbers): void {
    this.#extras.set(name, numbers);
    this.#attach(name, numbers);
  }

  #attach(name: Extra, numbers: Numbers): void {
    this.#thin?.geometry.setAttribute(name, new BufferAttribute(numbers, 1));
    const geometry = this.#wide?.geometry;
    if (name === 'seconds' && geometry) {
      const seconds = new InstancedInterleavedBuffer(numbers, 1);
      geometry.setAttribute('fromSeconds', new InterleavedBufferAttribute(seconds, 1, 0));
      geometry.setAttribute('toSeconds', new InterleavedBufferAttribute(seconds, 1, 1));
    } else {
      geometry?.setAttribute(name, perWay(numbers));
    }
  }

  #drop(name: Extra): void {
    this.#extras.delete(name);
    this.#thin?.geometry.deleteAttribute(name);
    this.#wide?.geometry.deleteAttribute(name);
  }

  /** Lights lines, counted from the piece's first. */
  light(first: number, last: number): void {
    this.#uniforms.litFirst.value = first;
    this.#uniforms.litLast.value = last;
  }

  /** Leaves out lines in whose place others are shown, counted from the piece's first. */
  leaveOut(first: number, last: number): void {
    this.#uniforms.goneFirst.value = first;
    this.#uniforms.goneLast.value = last;
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
      this.#give('hidden', hidden);
    } else {
      this.#drop('hidden');
    }
  }

  /** The colour of each row, for colours by what a row says. */
  colourRows(scale: Scale, theme: Theme): void {
    if (this.#coloured?.scale === scale && this.#coloured.theme === theme) {
      return;
    }
    this.#coloured = { scale, theme };
    if (!this.#extras.has('row')) {
      this.#give('row', this.#path.rowOf);
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
      this.#give('seconds', Float32Array.from(times.seconds));
    }
  }

  dispose(): void {
    for (const made of [this.#wide, this.#thin]) {
      made?.geometry.dispose();
      made?.material.dispose();
    }
    this.#rowTexture?.dispose();
  }
}

/** Numbers a vertex as numbers a way: those of the vertex that the way leads to. */
const perWay = (numbers: Numbers | Uint32Array): InterleavedBufferAttribute =>
  new InterleavedBufferAttribute(new InstancedInterleavedBuffer(numbers, 1), 1, 1);

/** One line on through all vertices. */
function stripOf(path: PackedPath): BufferGeometry {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(path.positions, 3));
  geometry.setAttribute('code', new BufferAttribute(path.codes, 1));
  geometry.boundingSphere = sphereOf(path);
  return geometry;
}

/** One rectangle a way. */
function rectanglesOf(path: PackedPath, look: number): InstancedBufferGeometry {
  const geometry = new InstancedBufferGeometry();
  const points = new InstancedInterleavedBuffer(path.positions, 3);
  geometry.setAttribute('corner', new BufferAttribute(Float32Array.of(0, -1, 1, -1, 1, 1, 0, 1), 2));
  geometry.setIndex([0, 1, 2, 0, 2, 3]);
  geometry.setAttribute('start', new InterleavedBufferAttribute(points, 3, 0));
  // The same buffer, one vertex on.
  geometry.setAttribute('end', new InterleavedBufferAttribute(points, 3, 3));
  geometry.setAttribute('code', perWay(path.codes));
  if (look !== Look.own) {
    geometry.setAttribute('walked', new InstancedBufferAttribute(walkedLengths(path), 1));
  }
  geometry.instanceCount = path.vertexCount - 1;
  geometry.boundingSphere = sphereOf(path);
  return geometry;
}

function sphereOf({ bounds, origin }: PackedPath): Sphere {
  const least = new Vector3(bounds[0], bounds[1], bounds[2]);
  const greatest = new Vector3(bounds[3], bounds[4], bounds[5]);
  const centre = least.clone().add(greatest).multiplyScalar(0.5).sub(new Vector3().fromArray(origin));
  return new Sphere(centre, least.distanceTo(greatest) / 2 + 1e-3);
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

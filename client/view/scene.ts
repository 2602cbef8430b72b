// The path in WebGL: one mesh a piece, drawn again only when something has changed.
import {
  BufferAttribute,
  Color,
  DoubleSide,
  GLSL3,
  InstancedBufferGeometry,
  InstancedInterleavedBuffer,
  InterleavedBufferAttribute,
  type IUniform,
  Mesh,
  OrthographicCamera,
  RawShaderMaterial,
  Scene,
  Sphere,
  Vector2,
  Vector3,
  WebGLRenderer,
} from 'three';
import { type PackedPath, PathStyle } from '../../server/src/core/geometry/packedLayout.ts';
import { basisOf, type Camera, type Size } from './camera.ts';
import type { ShownPiece } from './picture.ts';
import { fragmentShader, vertexShader } from './shaders.ts';
import type { Theme } from './theme.ts';

/** Lines (0-based, of the program) that are lit; `last` below `first`: none. */
export interface LitLines {
  readonly first: number;
  readonly last: number;
}

type Uniforms = Record<string, IUniform>;

interface PieceMesh {
  readonly mesh: Mesh<InstancedBufferGeometry, RawShaderMaterial>;
  readonly uniforms: Uniforms;
}

/** Widths in CSS pixels by style. */
const WIDTHS: readonly number[] = (() => {
  const widths = [0, 0, 0, 0, 0];
  widths[PathStyle.rapid] = 1.2;
  widths[PathStyle.cut] = 2;
  widths[PathStyle.plunge] = 3;
  widths[PathStyle.helix] = 4;
  return widths;
})();

/** Draws the path. The constructor throws where there is no WebGL. */
export class PathScene {
  readonly #renderer: WebGLRenderer;
  readonly #scene = new Scene();
  readonly #camera = new OrthographicCamera();
  readonly #meshes = new Map<number, PieceMesh>();
  readonly #shared: Uniforms = {
    viewport: { value: new Vector2(1, 1) },
    pixelRatio: { value: 1 },
    widths: { value: WIDTHS },
    colours: { value: WIDTHS.map(() => new Color()) },
    litColour: { value: new Color() },
    ghostColour: { value: new Color() },
  };
  #ghost: PieceMesh | undefined;

  constructor(canvas: HTMLCanvasElement) {
    this.#renderer = new WebGLRenderer({ canvas, alpha: true, antialias: true });
    this.#renderer.setClearColor(0, 0);
    this.#camera.matrixAutoUpdate = false;
  }

  /** Fits the drawing to the canvas. */
  resize({ width, height }: Size): void {
    const ratio = Math.min(window.devicePixelRatio || 1, 2);
    this.#renderer.setPixelRatio(ratio);
    this.#renderer.setSize(width, height, false);
    this.#shared.viewport.value.set(width * ratio, height * ratio);
    this.#shared.pixelRatio.value = ratio;
  }

  colour(theme: Theme): void {
    const raw = (colour: Color, text: string): void => {
      // As written, without conversion: the page's colours are shown as they are.
      colour.setStyle(text, 'srgb-linear');
    };
    theme.path.forEach((text, style) => {
      raw(this.#shared.colours.value[style], text);
    });
    raw(this.#shared.litColour.value, theme.foreground);
    raw(this.#shared.ghostColour.value, theme.ghost);
  }

  /** Shows these pieces; those that were shown before are kept as they are. */
  show(pieces: readonly ShownPiece[]): void {
    const wanted = new Set(pieces.map(({ id }) => id));
    for (const [id, { mesh }] of this.#meshes) {
      if (!wanted.has(id)) {
        this.#scene.remove(mesh);
        mesh.geometry.dispose();
        mesh.material.dispose();
        this.#meshes.delete(id);
      }
    }
    for (const piece of pieces) {
      if (!this.#meshes.has(piece.id) && piece.path.vertexCount > 1) {
        const made = meshOf(piece.path, this.#shared, false);
        this.#meshes.set(piece.id, made);
        this.#scene.add(made.mesh);
      }
    }
  }

  /** Draws another path over the pieces, or none. */
  showGhost(path: PackedPath | undefined): void {
    if (this.#ghost) {
      const { mesh } = this.#ghost;
      this.#scene.remove(mesh);
      mesh.geometry.dispose();
      mesh.material.dispose();
    }
    this.#ghost = path && path.vertexCount > 1 ? meshOf(path, this.#shared, true) : undefined;
    if (this.#ghost) {
      this.#scene.add(this.#ghost.mesh);
    }
  }

  /** Draws. `reach` is the greatest distance of anything drawn from the camera's target, mm. */
  draw(camera: Camera, size: Size, pieces: readonly ShownPiece[], lit: LitLines, reach: number): void {
    for (const { id, firstLine } of pieces) {
      const uniforms = this.#meshes.get(id)?.uniforms;
      if (uniforms) {
        uniforms.litFirst.value = lit.first - firstLine;
        uniforms.litLast.value = lit.last - firstLine;
      }
    }
    this.#place(camera, size, Math.max(1, reach));
    this.#renderer.render(this.#scene, this.#camera);
  }

  /** The colour at a place in CSS pixels as it was drawn last, red green blue alpha of 255; draw just before. */
  pixel(x: number, y: number): [number, number, number, number] {
    const gl = this.#renderer.getContext();
    const ratio = this.#shared.pixelRatio.value;
    const colour = new Uint8Array(4);
    gl.readPixels(
      Math.floor(x * ratio),
      gl.drawingBufferHeight - 1 - Math.floor(y * ratio),
      1,
      1,
      gl.RGBA,
      gl.UNSIGNED_BYTE,
      colour,
    );
    return [colour[0], colour[1], colour[2], colour[3]];
  }

  #place(camera: Camera, { width, height }: Size, reach: number): void {
    const { right, up, toward } = basisOf(camera);
    const eye = new Vector3(...camera.target).addScaledVector(new Vector3(...toward), 2 * reach);
    const at = this.#camera;
    at.matrix.makeBasis(new Vector3(...right), new Vector3(...up), new Vector3(...toward)).setPosition(eye);
    at.right = width / 2 / camera.scale;
    at.left = -at.right;
    at.top = height / 2 / camera.scale;
    at.bottom = -at.top;
    at.near = 0;
    at.far = 4 * reach;
    at.updateProjectionMatrix();
    at.updateMatrixWorld(true);
  }
}

/** A mesh of one rectangle a way; the piece's own arrays go to the graphics card as they came. */
function meshOf(path: PackedPath, shared: Uniforms, isGhost: boolean): PieceMesh {
  const geometry = new InstancedBufferGeometry();
  const points = new InstancedInterleavedBuffer(path.positions, 3);
  const codes = new InstancedInterleavedBuffer(path.codes, 1);
  geometry.setAttribute('corner', new BufferAttribute(Float32Array.of(0, -1, 1, -1, 1, 1, 0, 1), 2));
  geometry.setIndex([0, 1, 2, 0, 2, 3]);
  geometry.setAttribute('start', new InterleavedBufferAttribute(points, 3, 0));
  // The same buffer, one vertex on.
  geometry.setAttribute('end', new InterleavedBufferAttribute(points, 3, 3));
  geometry.setAttribute('code', new InterleavedBufferAttribute(codes, 1, 1));
  geometry.instanceCount = path.vertexCount - 1;
  const { bounds, origin } = path;
  const least = new Vector3(bounds[0], bounds[1], bounds[2]);
  const greatest = new Vector3(bounds[3], bounds[4], bounds[5]);
  const centre = least.clone().add(greatest).multiplyScalar(0.5).sub(new Vector3().fromArray(origin));
  geometry.boundingSphere = new Sphere(centre, least.distanceTo(greatest) / 2 + 1e-3);
  const uniforms = { ...shared, litFirst: { value: 1 }, litLast: { value: 0 }, isGhost: { value: isGhost ? 1 : 0 } };
  const material = new RawShaderMaterial({
    glslVersion: GLSL3,
    vertexShader,
    fragmentShader,
    uniforms,
    side: DoubleSide,
  });
  const mesh = new Mesh(geometry, material);
  mesh.position.fromArray(origin);
  // A piece of which nothing is drawn has no bounds to look at.
  mesh.visible = bounds[0] <= bounds[3];
  return { mesh, uniforms };
}

// What the bench of the view runs inside the browser: frames of the view beside frames of bare `three`, the same buffers.
import {
  BufferAttribute,
  BufferGeometry,
  InstancedInterleavedBuffer,
  InterleavedBufferAttribute,
  Line,
  LineBasicMaterial,
  OrthographicCamera,
  Scene,
  Sphere,
  Vector3,
  WebGLRenderer,
} from 'three';
import { LineMaterial } from 'three/examples/jsm/lines/LineMaterial.js';
import { LineSegments2 } from 'three/examples/jsm/lines/LineSegments2.js';
import { LineSegmentsGeometry } from 'three/examples/jsm/lines/LineSegmentsGeometry.js';
import { basisOf, fitTo, reachOf, startCamera } from '../../client/view/camera.ts';
import { pick } from '../../client/view/pick.ts';
import { Picture } from '../../client/view/picture.ts';
import { PathScene } from '../../client/view/scene.ts';
import { readTheme } from '../../client/view/theme.ts';
import { median } from './measure.ts';
import { finishingProgram } from './program.ts';
import { handOver } from './viewPieces.mjs';

const SIZE = { width: 1000, height: 700 };
const NOTHING_LIT = { first: 1, last: 0 };

function pictureOf(lines) {
  const { index, pieces } = handOver(finishingProgram(lines));
  const picture = new Picture();
  picture.takeIndex(index);
  for (const { id, data } of pieces) picture.takePiece(id, data);
  return picture;
}

function canvasIn(into) {
  const canvas = document.createElement('canvas');
  canvas.style.width = `${SIZE.width}px`;
  canvas.style.height = `${SIZE.height}px`;
  into.append(canvas);
  return canvas;
}

/** The bounds that the library needs to leave out what is not in the picture, so that it leaves out as much as the view. */
function boundTo(geometry, { bounds, origin }) {
  const least = new Vector3(bounds[0], bounds[1], bounds[2]);
  const greatest = new Vector3(bounds[3], bounds[4], bounds[5]);
  const centre = least
    .clone()
    .add(greatest)
    .multiplyScalar(0.5)
    .sub(new Vector3(...origin));
  geometry.boundingSphere = new Sphere(centre, least.distanceTo(greatest) / 2 + 1e-3);
}

/** The library's own line of some width, on the view's buffer of positions. */
function wideLine(path, material) {
  const geometry = new LineSegmentsGeometry();
  const points = new InstancedInterleavedBuffer(path.positions, 3);
  geometry.setAttribute('instanceStart', new InterleavedBufferAttribute(points, 3, 0));
  geometry.setAttribute('instanceEnd', new InterleavedBufferAttribute(points, 3, 3));
  geometry.instanceCount = path.vertexCount - 1;
  boundTo(geometry, path);
  return new LineSegments2(geometry, material);
}

/** The library's own line one pixel wide. */
function thinLine(path, material) {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(path.positions, 3));
  boundTo(geometry, path);
  return new Line(geometry, material);
}

/** Draws the pieces with the library alone. Gives a function that draws a frame with the library's camera. */
function bare(into, pieces, lineOf, material) {
  const renderer = new WebGLRenderer({ canvas: canvasIn(into), alpha: true, antialias: true });
  renderer.setClearColor(0, 0);
  renderer.setSize(SIZE.width, SIZE.height, false);
  const scene = new Scene();
  for (const { path } of pieces) {
    const line = lineOf(path, material);
    line.position.fromArray(path.origin);
    scene.add(line);
  }
  return { gl: renderer.getContext(), draw: (camera) => renderer.render(scene, camera) };
}

const one = new Uint8Array(4);
/** Milliseconds until a frame is through: a pixel is read back, so that nothing is left to be done. */
function frame(gl, draw) {
  const begin = performance.now();
  draw();
  gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, one);
  return performance.now() - begin;
}

/** Pixels that a frame has put something on: a frame of nothing would be quick. */
function drawnPixels(gl, draw) {
  draw();
  const { drawingBufferWidth: width, drawingBufferHeight: height } = gl;
  const all = new Uint8Array(4 * width * height);
  gl.readPixels(0, 0, width, height, gl.RGBA, gl.UNSIGNED_BYTE, all);
  return all.filter((value, i) => i % 4 === 3 && value > 0).length;
}

/** Medians of frames that are drawn by turns, so that all of them have the same machine. */
function byTurns(drawn, rounds) {
  const times = drawn.map(() => []);
  for (let round = -2; round < rounds; round++) {
    drawn.forEach(({ gl, draw }, i) => {
      const time = frame(gl, draw);
      if (round >= 0) times[i].push(time);
    });
  }
  return times.map(median);
}

/** The library's camera that sees what the view's camera does. */
function libraryCamera(camera, reach) {
  const { right, up, toward } = basisOf(camera);
  const [across, high] = [SIZE.width / 2 / camera.scale, SIZE.height / 2 / camera.scale];
  const at = new OrthographicCamera(-across, across, high, -high, 0, 4 * reach);
  const place = new Vector3(...camera.target).addScaledVector(new Vector3(...toward), 2 * reach);
  at.matrixAutoUpdate = false;
  at.matrix.makeBasis(new Vector3(...right), new Vector3(...up), new Vector3(...toward)).setPosition(place);
  at.updateMatrixWorld(true);
  return at;
}

/** The view's drawing. */
function viewScene(into, picture) {
  const canvas = canvasIn(into);
  const scene = new PathScene(canvas);
  scene.colour(readTheme(document.body));
  scene.resize(SIZE);
  scene.show(picture.pieces);
  return { scene, gl: canvas.getContext('webgl2') };
}

/** Frames of the view against frames of the library's lines, flat and in space. */
export function frames(lines, rounds) {
  const picture = pictureOf(lines);
  const { pieces } = picture;
  const { scene, gl } = viewScene(document.body, picture);
  const wide = bare(document.body, pieces, wideLine, new LineMaterial({ color: 0x56b4e9, linewidth: 2 }));
  const thin = bare(document.body, pieces, thinLine, new LineBasicMaterial({ color: 0x56b4e9 }));
  const bounds = picture.bounds('bounds');
  const results = {};
  for (const view of ['top', 'space']) {
    const camera = fitTo({ ...startCamera, view }, SIZE, bounds, { top: 0, left: 0, bottom: 0 });
    const reach = reachOf(bounds, camera);
    const own = (isThin) => {
      scene.thin(isThin ? 0 : undefined);
      scene.draw(camera, SIZE, pieces, NOTHING_LIT, reach);
    };
    const placed = libraryCamera(camera, reach);
    const drawn = [
      { gl, draw: () => own(false) },
      { gl, draw: () => own(true) },
      { gl: wide.gl, draw: () => wide.draw(placed) },
      { gl: thin.gl, draw: () => thin.draw(placed) },
    ];
    const pixels = drawn.map((one) => drawnPixels(one.gl, one.draw));
    // Dashes leave some of the view's out.
    if (pixels[1] < 0.5 * pixels[3])
      throw new Error(`thin lines on ${pixels[1]} pixels, the library's on ${pixels[3]}`);
    results[view] = byTurns(drawn, rounds);
  }
  const vertices = pieces.reduce((sum, { path }) => sum + path.vertexCount, 0);
  return { vertices, pieces: pieces.length, results };
}

/** Milliseconds to find the line under a pixel, flat and in space: medians over places spread over the picture. */
export function picks(lines, places) {
  const picture = pictureOf(lines);
  const bounds = picture.bounds('bounds');
  const results = {};
  for (const view of ['top', 'space']) {
    const camera = fitTo({ ...startCamera, view }, SIZE, bounds, { top: 0, left: 0, bottom: 0 });
    const times = Array.from({ length: places }, (_, i) => {
      const [x, y] = [SIZE.width * ((i * 0.618034) % 1), (SIZE.height * (i + 0.5)) / places];
      const begin = performance.now();
      pick(picture.pieces, camera, SIZE, x, y);
      return performance.now() - begin;
    });
    results[view] = { median: median(times), most: Math.max(...times) };
  }
  return results;
}

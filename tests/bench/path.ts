/** The toolpath for the view: building the pieces, and the ways they take. */
import { spawn } from 'node:child_process';
import type { Duplex } from 'node:stream';
import { MessageChannel } from 'node:worker_threads';
import { Analysis } from '../../server/src/core/checks/analysis.ts';
import { readPackedPath } from '../../server/src/core/geometry/packedLayout.ts';
import { INDEX_CHUNK, type PathIndex } from '../../server/src/core/geometry/pathRequest.ts';
import { packChunkFor } from '../../server/src/lsp/pathHandover.ts';
import { floorOf, median, row, timed } from './measure.ts';
import { finishingProgram } from './program.ts';

const request = (chunk: number) => ({ uri: 'file:///a.nc', version: 1, chunk, layer: 'program' as const });

/** The times of all pieces of the last list. */
const buildTimes = (analysis: Analysis, ids: readonly number[]): number =>
  timed(() => {
    for (const id of ids) packChunkFor(analysis, { ...request(id), what: 'times' });
  });

const listOf = (analysis: Analysis): PathIndex =>
  JSON.parse(new TextDecoder().decode(packChunkFor(analysis, request(INDEX_CHUNK)))) as PathIndex;

const build = (analysis: Analysis): ArrayBuffer[] => {
  return listOf(analysis).pieces.map((piece) => packChunkFor(analysis, request(piece.id)));
};

/** Milliseconds until all pieces went through a message port, transferred. */
const transfer = async (pieces: readonly ArrayBuffer[]): Promise<number> => {
  const { port1, port2 } = new MessageChannel();
  const begin = performance.now();
  const arrived = new Promise<void>((resolve) => {
    let count = 0;
    port2.on('message', () => {
      if (++count === pieces.length) resolve();
    });
  });
  for (const piece of pieces) port1.postMessage(piece, [piece]);
  await arrived;
  const taken = performance.now() - begin;
  port1.close();
  return taken;
};

const CHILD = `const s=new (require('net').Socket)({fd:3});let n=0;const all=Number(process.argv[1]);
s.on('data',d=>{n+=d.length;if(n>=all){n=0;s.write('k');}});`;

/** Milliseconds until another process has read all pieces from a pipe. */
const pipe = async (pieces: readonly ArrayBuffer[], rounds: number): Promise<number> => {
  const bytes = pieces.reduce((sum, piece) => sum + piece.byteLength, 0);
  const child = spawn(process.execPath, ['-e', CHILD, String(bytes)], {
    stdio: ['ignore', 'inherit', 'inherit', 'pipe'],
  });
  const stream = child.stdio[3] as Duplex;
  const times: number[] = [];
  for (let i = 0; i < rounds; i++) {
    const begin = performance.now();
    const answered = new Promise((resolve) => stream.once('data', resolve));
    for (const piece of pieces) stream.write(new Uint8Array(piece));
    await answered;
    times.push(performance.now() - begin);
  }
  child.kill();
  return median(times);
};

const base64 = (pieces: readonly ArrayBuffer[]): number =>
  timed(() => {
    for (const piece of pieces) {
      const text = JSON.stringify({ version: 1, data: Buffer.from(piece).toString('base64') });
      Buffer.from((JSON.parse(text) as { data: string }).data, 'base64');
    }
  });

const main = async (): Promise<void> => {
  const text = finishingProgram(1_000_000);
  const analysis = new Analysis(text);
  analysis.run();
  const first = timed(() => listOf(analysis));
  for (let i = 0; i < 3; i++) build(analysis);
  const floor = floorOf(text);
  const times: number[] = [];
  let pieces: ArrayBuffer[] = [];
  for (let i = 0; i < 7; i++) {
    times.push(
      timed(() => {
        pieces = build(analysis);
      }),
    );
  }
  process.stdout.write(`F = ${floor.toFixed(1)} ms for the path\n`);
  let vertices = 0;
  let bytes = 0;
  for (const piece of pieces) {
    vertices += readPackedPath(piece)?.vertexCount ?? 0;
    bytes += piece.byteLength;
  }
  const shares = (value: number): string => `${(value / floor).toFixed(3)} F`;
  row('toolpath for the view, bytes a vertex', `${(bytes / vertices).toFixed(1)} B, ${vertices} vertices`, '≤ 20 B');
  row('toolpath for the view, building', `${(median(times) / floor).toFixed(2)} F`, '≤ 0.5 F');
  row('toolpath for the view, its list for the first time (once a program)', shares(first), '');
  const ids = listOf(analysis).pieces.map(({ id }) => id);
  const ofTimes = median([1, 2, 3, 4, 5].map(() => buildTimes(analysis, ids)));
  row('times for the view, building (when they are asked for)', shares(ofTimes), '');
  row('hand-over by pipe', shares(await pipe(pieces, 5)), '≤ 1.5 F');
  row('hand-over as base64 in JSON', shares(median([1, 2, 3, 4, 5].map(() => base64(pieces)))), '≤ 3 F');
  const handed: number[] = [];
  for (let i = 0; i < 5; i++) handed.push(await transfer(build(analysis)));
  row('hand-over by transfer', shares(median(handed)), '≤ 0.03 F');
};

void main();

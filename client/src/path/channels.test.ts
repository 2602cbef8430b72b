import { Duplex, PassThrough } from 'node:stream';
import { describe, expect, it } from 'vitest';
import { readPackedPath } from '../../../server/src/core/geometry/packedLayout.ts';
import { INDEX_CHUNK, type PathRequest } from '../../../server/src/core/geometry/pathRequest.ts';
import { MODE_COUNT, Mode, ModePool } from '../../../server/src/core/machine/modes.ts';
import { MoveKind, MoveTable } from '../../../server/src/core/machine/moves.ts';
import { attachPipe, attachPort, type PathAnalysis, type PathPort } from '../../../server/src/lsp/pathHandover.ts';
import type { PathChannel } from './channel.ts';
import { createPipeChannel } from './pipeChannel.ts';
import { createPortChannel } from './portChannel.ts';

const uri = 'file:///part.nc';
const ask = (chunk: number, of = uri): PathRequest => ({ uri: of, version: 1, chunk, layer: 'program' });

function analysisOf(): PathAnalysis {
  const modePool = new ModePool();
  const modes = new Float64Array(MODE_COUNT);
  modes[Mode.plane] = 17;
  modes[Mode.units] = 21;
  const id = modePool.intern(modes, true);
  const moves = new MoveTable();
  moves.add(10, 0, 0, 0, MoveKind.rapid, id);
  moves.add(10, 20, 0, 1, MoveKind.line, id);
  return {
    modePool,
    chunks: [{ version: 1, lineCount: 2, segments: [{ entry: { position: new Float64Array(9) }, moves }] }],
    chunkFirstLine: () => 0,
    runsStraight: true,
    chunkOfLine: () => 0,
    findings: () => ({ findings: [], more: {} }),
    stateAfter: () => ({ position: new Float64Array(9) }),
  };
}

const lookup = (asked: string) => (asked === uri ? { analysis: analysisShared, version: 7 } : undefined);
const analysisShared = analysisOf();

/** Two streams, each reading what the other writes, cut into parts of a few bytes. */
function crossed(partBytes: number): [Duplex, Duplex] {
  const ways = [new PassThrough(), new PassThrough()];
  const end = (incoming: PassThrough, outgoing: PassThrough): Duplex => {
    const duplex = new Duplex({
      read: () => {},
      write(part: Buffer, _encoding, done) {
        for (let at = 0; at < part.length; at += partBytes) outgoing.write(part.subarray(at, at + partBytes));
        done();
      },
    });
    incoming.on('data', (part) => duplex.push(part));
    return duplex;
  };
  return [end(ways[0], ways[1]), end(ways[1], ways[0])];
}

async function fetchesEverything(channel: PathChannel): Promise<void> {
  const index = JSON.parse(new TextDecoder().decode(await channel.request(ask(INDEX_CHUNK))));
  expect(index).toMatchObject({ version: 7, inch: false, findings: [], unplaced: 0 });
  expect(index.pieces).toHaveLength(1);
  const data = await channel.request(ask(index.pieces[0].id));
  expect(readPackedPath(data)?.cutBounds).toEqual(Float64Array.of(10, 0, 0, 10, 20, 0));
  expect((await channel.request(ask(9999))).byteLength).toBe(0);
  await expect(channel.request(ask(INDEX_CHUNK, 'file:///other.nc'))).rejects.toThrow('file:///other.nc is not open');
}

describe('the pipe', () => {
  it('fetches list and pieces, however the stream is cut', async () => {
    for (const partBytes of [1, 7, 65536]) {
      const [near, far] = crossed(partBytes);
      attachPipe(far, lookup);
      await fetchesEverything(createPipeChannel({ stdio: [null, null, null, near, null] }));
    }
  });

  it('rejects what is under way, and what comes later, when the server ends', async () => {
    const [near] = crossed(16);
    const channel = createPipeChannel({ stdio: [null, null, null, near, null] });
    const waiting = channel.request(ask(INDEX_CHUNK));
    near.destroy();
    await expect(waiting).rejects.toThrow('ended');
    await expect(channel.request(ask(INDEX_CHUNK))).rejects.toThrow('ended');
  });

  it('says so where there is no pipe', async () => {
    const channel = createPipeChannel({ stdio: [null, null, null, null, null] });
    await expect(channel.request(ask(INDEX_CHUNK))).rejects.toThrow('without a pipe');
  });

  it('is closed by a stream that is out of step', async () => {
    const [near, far] = crossed(16);
    attachPipe(far, lookup);
    near.write(Buffer.alloc(64, 0xff));
    await new Promise((resolve) => far.on('close', resolve));
    expect(far.destroyed).toBe(true);
  });
});

describe('the message port', () => {
  it('posts its other end to the worker first, and moves the pieces over it', async () => {
    let posted: { blockwrightPathPort: PathPort } | undefined;
    const transferred: ArrayBuffer[] = [];
    const channel = createPortChannel({
      postMessage: (message: typeof posted, transfer: unknown[]) => {
        posted = message;
        expect(transfer).toEqual([message?.blockwrightPathPort]);
      },
    });
    const port = posted!.blockwrightPathPort as PathPort & { close(): void };
    const watched: PathPort = {
      onmessage: null,
      postMessage: (message, transfer) => {
        transferred.push(...transfer);
        port.postMessage(message, transfer);
      },
    };
    attachPort(watched, lookup);
    port.onmessage = (event) => watched.onmessage?.(event);
    await fetchesEverything(channel);
    expect(transferred).toHaveLength(2);
    expect(transferred.every((buffer) => buffer.byteLength === 0)).toBe(true);
    port.close();
  });
});

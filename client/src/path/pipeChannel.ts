// The path on the desktop: frames over descriptor 3 of the server's process.
import type { ChildProcess } from 'node:child_process';
import type { Duplex } from 'node:stream';
import type { PathRequest } from '../../../server/src/core/geometry/pathRequest.ts';
import { FrameReader, FrameStatus, frameHead } from '../../../server/src/lsp/pathFrames.ts';
import { type PathChannel, PendingRequests } from './channel.ts';

/** Connects to a server that was started with a fourth pipe. */
export function createPipeChannel(child: Pick<ChildProcess, 'stdio'>): PathChannel {
  const pipe = child.stdio[3] as Duplex | null | undefined;
  const pending = new PendingRequests();
  if (!pipe) {
    return { request: () => Promise.reject(new Error('the server was started without a pipe for the path')) };
  }
  const reader = new FrameReader();
  let gone: string | undefined;
  const lose = (reason: string): void => {
    gone ??= reason;
    pending.failAll(reason);
  };
  pipe.on('data', (part: Buffer) => {
    try {
      for (const { id, status, payload } of reader.take(part)) {
        if (status === FrameStatus.answer) pending.answer(id, payload.buffer);
        else pending.fail(id, new TextDecoder().decode(payload));
      }
    } catch (error) {
      pipe.destroy(error as Error);
    }
  });
  pipe.on('error', (error) => lose(error.message));
  pipe.on('close', () => lose('the language server has ended'));
  return {
    request(header: PathRequest): Promise<ArrayBuffer> {
      if (gone !== undefined) {
        return Promise.reject(new Error(gone));
      }
      return pending.open((id) => {
        const payload = new TextEncoder().encode(JSON.stringify(header));
        pipe.write(frameHead(id, FrameStatus.request, payload.length));
        pipe.write(payload);
      });
    },
  };
}

// The path in the browser: a message port of its own to the server's worker, over which buffers are moved, not copied.
import type { PathRequest } from '../../../server/src/core/geometry/pathRequest.ts';
import { type PathChannel, PendingRequests } from './channel.ts';

/** The name under which the worker finds its end of the port in the first message. */
const PORT_FIELD = 'blockwrightPathPort';

/** The browser's port and worker, as far as they are used; this build knows no types of the page. */
interface Port {
  onmessage: ((event: { readonly data: unknown }) => void) | null;
  postMessage(message: unknown): void;
}
interface PortTaker {
  postMessage(message: unknown, transfer: readonly Port[]): void;
}

/** Makes a port, posts its other end to the worker as `{ blockwrightPathPort }`, and asks over it. */
export function createPortChannel(worker: object): PathChannel {
  const { port1, port2 } = new MessageChannel() as unknown as { readonly port1: Port; readonly port2: Port };
  const pending = new PendingRequests();
  port1.onmessage = ({ data: message }) => {
    if (typeof message !== 'object' || message === null) {
      return;
    }
    const { id, data, failure } = message as { id?: unknown; data?: unknown; failure?: unknown };
    if (typeof id !== 'number') {
      return;
    }
    if (data instanceof ArrayBuffer) pending.answer(id, data);
    else pending.fail(id, String(failure));
  };
  (worker as PortTaker).postMessage({ [PORT_FIELD]: port2 }, [port2]);
  return {
    request: (request: PathRequest) => pending.open((id) => port1.postMessage({ id, request })),
  };
}

/**
 * Frames on the pipe that the path takes on the desktop. A frame is: Uint32 number of bytes behind these four, Uint32 id,
 * one byte of status, the payload; all little-endian. Requests carry JSON, answers carry what was asked for.
 */

/** What a frame carries. */
export const FrameStatus = {
  request: 0,
  answer: 1,
  /** The payload is the reason, as text. */
  failure: 2,
} as const;

const HEAD_BYTES = 9;
/** More than the largest piece or list; a longer frame means that the stream is out of step. */
const MAX_BYTES = 64 * 1024 * 1024;

/** A frame as it came. */
export interface Frame {
  readonly id: number;
  readonly status: number;
  /** Has a buffer of its own, so that it can be handed on. */
  readonly payload: Uint8Array<ArrayBuffer>;
}

/** The head of a frame; the payload is written behind it as it is. */
export function frameHead(id: number, status: number, payloadBytes: number): Uint8Array {
  const head = new Uint8Array(HEAD_BYTES);
  const view = new DataView(head.buffer);
  view.setUint32(0, HEAD_BYTES - 4 + payloadBytes, true);
  view.setUint32(4, id, true);
  head[8] = status;
  return head;
}

/** Puts frames together from the parts in which a stream delivers them. */
export class FrameReader {
  private readonly head = new Uint8Array(HEAD_BYTES);
  private headFilled = 0;
  private payload: Uint8Array<ArrayBuffer> | undefined;
  private payloadFilled = 0;

  /** Takes the next part; gives the frames that it completes. Throws where the stream is out of step. */
  take(part: Uint8Array): Frame[] {
    const frames: Frame[] = [];
    let at = 0;
    while (at < part.length || (this.payload !== undefined && this.payloadFilled === this.payload.length)) {
      if (this.payload === undefined) at += this.takeHead(part, at);
      else at += this.takePayload(part, at, this.payload, frames);
    }
    return frames;
  }

  private takeHead(part: Uint8Array, at: number): number {
    const count = Math.min(HEAD_BYTES - this.headFilled, part.length - at);
    this.head.set(part.subarray(at, at + count), this.headFilled);
    this.headFilled += count;
    if (this.headFilled === HEAD_BYTES) {
      const bytes = new DataView(this.head.buffer).getUint32(0, true) - (HEAD_BYTES - 4);
      if (bytes < 0 || bytes > MAX_BYTES) throw new RangeError(`a frame of ${bytes} bytes cannot be`);
      this.payload = new Uint8Array(bytes);
      this.payloadFilled = 0;
      this.headFilled = 0;
    }
    return count;
  }

  private takePayload(part: Uint8Array, at: number, payload: Uint8Array<ArrayBuffer>, frames: Frame[]): number {
    const count = Math.min(payload.length - this.payloadFilled, part.length - at);
    payload.set(part.subarray(at, at + count), this.payloadFilled);
    this.payloadFilled += count;
    if (this.payloadFilled === payload.length) {
      const id = new DataView(this.head.buffer).getUint32(4, true);
      frames.push({ id, status: this.head[8], payload });
      this.payload = undefined;
    }
    return count;
  }
}

// Fetches the part of a program's path that changes of its text would make another one, or that of lines put in.
import {
  type GhostEdit,
  INDEX_CHUNK,
  type InsertedLines,
  isPathIndex,
} from '../../../server/src/core/geometry/pathRequest.ts';
import type { PathChannel } from './channel.ts';

/** What would be done to the text: words changed, or whole lines put in; `isInstead`: in place of lines that say something. */
export type GhostChange =
  | { readonly edits: readonly GhostEdit[] }
  | { readonly inserted: InsertedLines; readonly isInstead?: boolean };

/** The packed path with the change, as far as it is another one; undefined where nothing changes or it cannot be fetched. */
export async function ghostOf(
  channel: PathChannel,
  uri: string,
  change: GhostChange,
): Promise<ArrayBuffer | undefined> {
  const asked = 'inserted' in change ? { inserted: change.inserted } : { edits: change.edits };
  const ask = (chunk: number): Promise<ArrayBuffer> =>
    channel.request({ uri, version: 0, chunk, layer: 'ghost', ...asked });
  try {
    const index: unknown = JSON.parse(new TextDecoder().decode(await ask(INDEX_CHUNK)));
    if (!isPathIndex(index) || index.pieces.length === 0) {
      return undefined;
    }
    const data = await ask(index.pieces[0].id);
    return data.byteLength > 0 ? data : undefined;
  } catch {
    // A preview that fails is none; the repair or the block can be taken all the same.
    return undefined;
  }
}

/**
 * The server's own messages, beyond the language server protocol. A client that knows none of them loses nothing but
 * the path and, in a browser, the shop's file.
 *
 * What a client may say in `initializationOptions` (all optional):
 * - `readFile: true`: it answers `blockwright/readFile`. Needed where the server cannot read files itself (a web
 *   worker, or programs on a file system that only the editor knows).
 * - `listFolder: true`: it answers `blockwright/listFolder`, and `most` in `blockwright/readFile`; for subprograms in the
 *   files beside a program.
 * - `shopFileSchema: true`: it checks `blockwright.json` against the JSON schema itself, so the server tells of an open
 *   one only what the schema cannot.
 * - `rules`: code → `error`, `warning`, `hint` or `off`; for clients without `workspace/configuration`.
 *
 * The client sends the text of an open `blockwright.json` like that of a program (didOpen, didChange, didClose), and
 * `workspace/didChangeWatchedFiles` for every blockwright.json that changes on disk, and for the profile files it names
 * (the server asks for both where the client lets it). Also for the files in a folder whose programs call subprograms.
 */
import { NotificationType, RequestType, type TextEdit } from 'vscode-languageserver';
import type { GhostEdit } from '../core/geometry/pathRequest.ts';

/**
 * Server → client: the text of the file at `uri`, or null where there is none. An error answer means that it is there
 * and cannot be read. With `most`: the text of its first so many bytes, and the `size` of the whole in bytes; of a file
 * that the client finds too large to read, the text may be empty.
 */
export const ReadFileRequest = new RequestType<
  { uri: string; most?: number },
  { text: string; size?: number } | null,
  void
>('blockwright/readFile');

/** Server → client: the names of the plain files in the folder at `uri` (no folders, no links), or null where there is none. */
export const ListFolderRequest = new RequestType<{ uri: string }, { files: string[] } | null, void>(
  'blockwright/listFolder',
);

/**
 * Client → server: the list of the program's path chunks (without `chunk`), or one of them, as base64 of the packed path
 * (`core/geometry/packedPath.ts`). `version` is that of `blockwright/pathChanged`. The layer `ghost` is the part of the path
 * that the `edits` would make another one, the layer `other` is empty.
 */
export const PathRequestType = new RequestType<
  { uri: string; chunk?: number; layer?: 'program' | 'ghost' | 'other'; edits?: readonly GhostEdit[] },
  { version: number; data: string },
  void
>('blockwright/path');

/**
 * Client → server: the repairs of the wrong arc in the line of a position, best first, those of all arcs with the same fault
 * behind them; empty where the line has no wrong arc. `preview` are the edits for the layer `ghost` of `blockwright/path`.
 */
export const ArcRepairsRequest = new RequestType<
  { textDocument: { uri: string }; position: { line: number; character: number } },
  { title: string; edits: TextEdit[]; preview?: GhostEdit[] }[],
  void
>('blockwright/arcRepairs');

/**
 * Client → server: the text of a first `blockwright.json` for a folder, from the tools of the open programs in it (of all
 * open programs where none lies in it), and how many tools stand in it. Nothing is written.
 */
export const FirstShopFileRequest = new RequestType<{ folder: string }, { text: string; tools: number }, void>(
  'blockwright/firstShopFile',
);

/**
 * Server → client: the path of a program is another one now; sent only for programs whose path was asked for. `version`
 * counts up with every finished run and says nothing about the text's version.
 */
export const PathChangedNotification = new NotificationType<{ uri: string; version: number }>(
  'blockwright/pathChanged',
);

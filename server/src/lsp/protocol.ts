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
 * - `blockForm: true`: it has the command `blockwright.insertBlock`, which opens the form of a generated block by
 *   `{ uri?, name?, values?, line?, replaces?: { firstLine, lastLine }, edited? }` (values are texts in mm, lines count from 0
 *   and are both included, `edited`: the lines hold what was changed by hand). Completions of blocks, code lenses and code
 *   actions run it. Other clients get the plain forms, no lenses, and edits where the program says all that a block needs.
 * - `arcRepairs: true`: it has the command `blockwright.repairArc`, which lists `blockwright/arcRepairs` for
 *   `{ uri, line }` (a line counts from 0) and draws the marked one. Code actions on a wrong arc run it.
 * - `tokenKinds: true`: it colours the server's own kinds of words (`motion`, `axis`, `feed` …, see `semanticTokens.ts`). Other
 *   clients are told the nearest kinds of the protocol.
 * - `rules`: code → `error`, `warning`, `hint` or `off`; for clients without `workspace/configuration`.
 *
 * The client sends the text of an open `blockwright.json` like that of a program (didOpen, didChange, didClose), and
 * `workspace/didChangeWatchedFiles` for every blockwright.json that changes on disk, and for the profile files it names
 * (the server asks for both where the client lets it). Also for the files in a folder whose programs call subprograms.
 */
import { NotificationType, RequestType, type TextEdit } from 'vscode-languageserver';
import type { BlockForm, BlockHere, FormResult } from '../core/features/blockForm.ts';
import type { CuttingBlocks } from '../core/features/cutHere.ts';
import type { Explanation } from '../core/features/explain.ts';
import type { StatusAt } from '../core/features/statusAt.ts';
import type { GhostEdit, InsertedLines, PathContent, PathLayer } from '../core/geometry/pathRequest.ts';
import type { PathDrawingRequest } from '../core/geometry/pathRequestDrawing.ts';
import type { PathMove, PathMoveRequest } from '../core/geometry/pathRequestMove.ts';

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
 * (`core/geometry/packedLayout.ts`), or with `what: 'times'` of its times (`packedPathTimes.ts`). `version` is that of
 * `blockwright/pathChanged`. The layer `ghost` is the part of the path that the `edits` would make another one, or the path
 * of the `inserted` lines; `contour` is what is programmed where radius compensation leads the cutter beside it; `other`
 * is the same as `program`.
 */
export const PathRequestType = new RequestType<
  {
    uri: string;
    chunk?: number;
    layer?: PathLayer;
    what?: PathContent;
    edits?: readonly GhostEdit[];
    inserted?: InsertedLines;
  },
  { version: number; data: string },
  void
>('blockwright/path');

/**
 * Client → server: the move of a line that is nearest to `at`, with its numbers and the words that hover shows for the
 * block; null where the line moves nothing. A line that the program has not is an error answer.
 */
export const PathMoveRequestType = new RequestType<PathMoveRequest, PathMove | null, void>('blockwright/pathMove');

/**
 * Client → server: the path in one plane as a drawing to scale with its dimensions, arcs as arcs, without the kinds of move
 * and the tool sections that are hidden. All programs of the file are drawn, as the path view does.
 */
export const PathDrawingRequestType = new RequestType<PathDrawingRequest, { svg: string }, void>('blockwright/svg');

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
 * Client → server: the kinds of generated blocks in the order of a list, and the generated block that `line` (from 0) of
 * the program stands in, where it stands in one; its values are in mm. `isFree`: the line holds no words, a block can take
 * its place.
 */
export const BlocksRequest = new RequestType<
  { textDocument: { uri: string }; line: number },
  { kinds: { name: string; title: string; summary: string; prefix: string }[]; isFree: boolean; here?: BlockHere },
  void
>('blockwright/blocks');

/**
 * Where a block is to stand: before `line` (from 0; the line count for behind the last), in place of the `replaced` lines
 * from there on (0 where it says none). `name` is the kind's; an unknown one is an error answer.
 */
export interface BlockPlace {
  readonly textDocument: { readonly uri: string };
  readonly line: number;
  readonly replaced?: number;
  readonly name: string;
}

/** Client → server: the parameters of a kind of block, in the units of the program at that place. */
export const BlockFormRequest = new RequestType<BlockPlace, BlockForm, void>('blockwright/blockForm');

/**
 * Client → server: the block that values make at a place, with what was computed, or what keeps it from being written.
 * `values` are text in the program's units, `kept` text in mm: a block's own values where it is revised (then what program
 * and tool table give is left out), else those of last time, which give way to what program and tool table give.
 * `version` is that of the text it was made for; `raw` are its values in mm.
 */
export const BlockRequest = new RequestType<
  BlockPlace & { values: Record<string, string>; kept?: Record<string, string>; isRevised?: boolean },
  FormResult & { version: number },
  void
>('blockwright/block');

/**
 * Client → server: the text of a first `blockwright.json` for a folder, from the tools of the open programs in it (of all
 * open programs where none lies in it), and how many tools stand in it. Nothing is written.
 */
export const FirstShopFileRequest = new RequestType<{ folder: string }, { text: string; tools: number }, void>(
  'blockwright/firstShopFile',
);

/** What is asked about the block that a position stands in. */
interface AtPosition {
  readonly textDocument: { readonly uri: string };
  readonly position: { readonly line: number; readonly character: number };
}

/**
 * Client → server: what holds behind the block of a position, in one line of words, and how long the program takes; null for
 * a text that is no program. A line that the program has not is an error answer.
 */
export const StatusRequest = new RequestType<AtPosition, StatusAt | null, void>('blockwright/status');

/** Client → server: the block of a position in plain sentences; null for a text that is no program. */
export const ExplainRequest = new RequestType<AtPosition, Explanation | null, void>('blockwright/explain');

/**
 * Client → server: the blocks whose tool passes over a place of the part, nearest first, of the same distance the last of the
 * run. `point` is text as in a program (`X10 Y20 Z-3`; Z may be left out) in the units that hold at `position`; `problem` says
 * what is wrong with it. At most 200 are listed, `more` were found.
 */
export const BlocksAtRequest = new RequestType<
  AtPosition & { point: string },
  (CuttingBlocks & { problem?: string }) | null,
  void
>('blockwright/blocksAt');

/**
 * Server → client: the path of a program is another one now; sent only for programs whose path was asked for. `version`
 * counts up with every finished run and says nothing about the text's version.
 */
export const PathChangedNotification = new NotificationType<{ uri: string; version: number }>(
  'blockwright/pathChanged',
);

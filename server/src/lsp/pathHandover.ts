/**
 * How the path leaves the server: over a message port (worker), over a pipe of its own (desktop), or in the answer to
 * the own request `blockwright/path` (other editors). Pieces are built when asked for, handed over, and forgotten.
 */
import { type StopLine, stopLinesOf } from '../core/checks/stopLines.ts';
import {
  INDEX_CHUNK,
  isPathRequest,
  type PathIndex,
  type PathLayer,
  type PathRequest,
} from '../core/geometry/pathRequest.ts';
import type { PathSummary } from '../core/geometry/pathSummary.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../core/machine/configuration.ts';
import { FlowPathSource, type FlowPaths } from './flowPath.ts';
import { type GhostSource, packGhost } from './ghostPath.ts';
import { type FindingSource, placedFindings, programIsInch } from './pathFindings.ts';
import { FrameReader, FrameStatus, frameHead } from './pathFrames.ts';
import { PathPieces, type PathSource } from './pathPieces.ts';

/** What the handover needs of an analysis. */
export type PathAnalysis = PathSource &
  FindingSource &
  Partial<FlowPaths> &
  Partial<GhostSource> & { readonly stopped?: PathSummary['stopped'] };

/** Finds the analysis of an open program; `undefined` if there is none. */
export type PathLookup = (uri: string) => LookedUpPath | undefined;

interface LookedUpPath {
  readonly analysis: PathAnalysis;
  readonly version: number;
  /** What the program runs under: lines that would be put in are executed under it too. */
  readonly configuration?: Configuration;
}

/** The end of a message port, as far as it is used. */
export interface PathPort {
  onmessage: ((event: { readonly data: unknown }) => void) | null;
  postMessage(message: unknown, transfer: ArrayBuffer[]): void;
}

/** A stream in both directions, as far as it is used (a Node socket on descriptor 3). */
export interface PathStream {
  on(event: 'data', listener: (part: Uint8Array) => void): unknown;
  on(event: 'error', listener: (error: Error) => void): unknown;
  write(part: Uint8Array): unknown;
  destroy(): unknown;
}

const programPieces = new WeakMap<PathAnalysis, PathPieces>();
const contourPieces = new WeakMap<PathAnalysis, PathPieces>();
const flowSources = new WeakMap<PathAnalysis, FlowPathSource>();
const NOTHING = new ArrayBuffer(0);

/**
 * Answers one request from an analysis: the list of pieces as UTF-8 JSON (`PathIndex`) where `chunk` is −1, else the
 * piece as `packedLayout.ts` describes it, or its times (`packedPathTimes.ts`). Empty where the piece is no longer there: ask for the list again.
 * `version` is the document's, it goes into the list.
 */
export function packChunkFor(
  analysis: PathAnalysis,
  request: PathRequest,
  version = request.version,
  configuration?: Configuration,
): ArrayBuffer {
  if (request.layer === 'ghost') return packGhost(analysis, request, version, configuration);
  const pieces = piecesOf(analysis, request.layer);
  // A piece is built of what the last list named; only a new list has to know the run as it is now.
  if (request.what === 'times' && request.chunk !== INDEX_CHUNK) {
    return (request.layer !== 'contour' && pieces.packTimes(analysis, request.chunk, configuration)) || NOTHING;
  }
  if (request.chunk !== INDEX_CHUNK) return pieces.pack(analysis, request.chunk, configuration) ?? NOTHING;
  const source = pathSourceOf(analysis);
  const index: PathIndex =
    request.layer === 'contour'
      ? {
          version,
          inch: programIsInch(source),
          pieces: pieces.list(source, configuration),
          findings: [],
          unplaced: 0,
        }
      : { version, inch: programIsInch(source), ...listed(analysis, source, pieces, configuration) };
  return new TextEncoder().encode(JSON.stringify(index)).buffer;
}

/** Pieces, findings and sums of a program; `other` is `program` of another one. */
function listed(
  analysis: PathAnalysis,
  source: PathSource,
  pieces: PathPieces,
  configuration: Configuration = DEFAULT_CONFIGURATION,
): Omit<PathIndex, 'version' | 'inch'> {
  const list = pieces.list(source, configuration);
  const summary = pieces.summary(source, configuration, allStopLines(analysis), analysis.stopped);
  return { pieces: list, ...placedFindings(analysis), summary };
}

/** All blocks that the program may stop at. */
function allStopLines(analysis: PathAnalysis): StopLine[] {
  return analysis.chunks.flatMap(({ text }, index) => {
    if (text === undefined) return [];
    const stops = stopLinesOf(text);
    if (stops.length === 0) return [];
    const firstLine = analysis.chunkFirstLine(index);
    return stops.map((stop) => ({ ...stop, line: firstLine + stop.line }));
  });
}

function piecesOf(analysis: PathAnalysis, layer: PathLayer): PathPieces {
  const all = layer === 'contour' ? contourPieces : programPieces;
  let pieces = all.get(analysis);
  if (pieces === undefined) {
    pieces = new PathPieces(layer === 'contour' ? 'contour' : 'program');
    all.set(analysis, pieces);
  }
  return pieces;
}

/** Where the path is read from: the chunks of a program that runs straight on, else what it passed through in its order. */
const pathSourceOf = (analysis: PathAnalysis): PathSource => {
  if (analysis.runsStraight || analysis.passages === undefined || analysis.straightChunks === undefined)
    return analysis;
  let source = flowSources.get(analysis);
  if (source === undefined) {
    source = new FlowPathSource(analysis as PathAnalysis & FlowPaths);
    flowSources.set(analysis, source);
  }
  source.update();
  return source;
};

/** Throws with words for the log where the request is malformed or the program is not open. */
const answer = (request: unknown, lookup: PathLookup): ArrayBuffer => {
  if (!isPathRequest(request)) throw new Error('a path request that cannot be read');
  const found = lookup(request.uri);
  if (found === undefined) throw new Error(`${request.uri} is not open`);
  return packChunkFor(found.analysis, request, found.version, found.configuration);
};

const reasonOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

/** Serves requests `{ id, request }` on a message port with `{ id, data }` or `{ id, failure }`; data is transferred. */
export function attachPort(port: PathPort, lookup: PathLookup): void {
  port.onmessage = ({ data: message }) => {
    if (typeof message !== 'object' || message === null) return;
    const { id, request } = message as { id?: unknown; request?: unknown };
    if (typeof id !== 'number') return;
    try {
      const data = answer(request, lookup);
      port.postMessage({ id, data }, data.byteLength > 0 ? [data] : []);
    } catch (error) {
      port.postMessage({ id, failure: reasonOf(error) }, []);
    }
  };
}

/** Serves request frames on a stream. A stream that is out of step or broken is closed; the language server goes on. */
export function attachPipe(stream: PathStream, lookup: PathLookup): void {
  const reader = new FrameReader();
  stream.on('error', () => stream.destroy());
  stream.on('data', (part) => {
    try {
      for (const { id, status, payload } of reader.take(part)) {
        if (status === FrameStatus.request) serveFrame(stream, id, payload, lookup);
      }
    } catch {
      stream.destroy();
    }
  });
}

const serveFrame = (stream: PathStream, id: number, payload: Uint8Array, lookup: PathLookup): void => {
  const send = (status: number, bytes: Uint8Array): void => {
    stream.write(frameHead(id, status, bytes.length));
    if (bytes.length > 0) stream.write(bytes);
  };
  try {
    const request: unknown = JSON.parse(new TextDecoder().decode(payload));
    send(FrameStatus.answer, new Uint8Array(answer(request, lookup)));
  } catch (error) {
    send(FrameStatus.failure, new TextEncoder().encode(reasonOf(error)));
  }
};

/**
 * Answers the own request `blockwright/path` ({ uri, chunk, layer }) for editors without a channel beside the protocol.
 * `data` is base64. Throws where the request is malformed or the program is not open.
 */
export function answerPathRequest(parameters: unknown, lookup: PathLookup): { version: number; data: string } {
  const request = { uri: '', version: 0, layer: 'program', ...(parameters as object | undefined) };
  const data = answer(request, lookup);
  return { version: lookup(request.uri)?.version ?? 0, data: base64(new Uint8Array(data)) };
}

/** Base64 without Node: the worker needs it too. */
const base64 = (bytes: Uint8Array): string => {
  let text = '';
  for (let at = 0; at < bytes.length; at += 0x6000) {
    text += btoa(String.fromCharCode(...bytes.subarray(at, at + 0x6000)));
  }
  return text;
};

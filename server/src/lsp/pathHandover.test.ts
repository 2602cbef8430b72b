import { describe, expect, it } from 'vitest';
import { Analysis } from '../core/checks/analysis.ts';
import {
  MAX_VERTICES,
  RowField,
  readPackedPath,
  rowValue,
  STYLE_BITS,
  STYLE_MASK,
} from '../core/geometry/packedLayout.ts';
import { readPackedTimes } from '../core/geometry/packedPathTimes.ts';
import {
  INDEX_CHUNK,
  isPathIndex,
  type PathContent,
  type PathIndex,
  type PathLayer,
} from '../core/geometry/pathRequest.ts';
import { DEFAULT_CONFIGURATION } from '../core/machine/configuration.ts';
import { MODE_COUNT, Mode, ModePool } from '../core/machine/modes.ts';
import { MoveKind, MoveTable } from '../core/machine/moves.ts';
import { answerPathRequest, type PathAnalysis, packChunkFor } from './pathHandover.ts';
import type { PathChunk } from './pathPieces.ts';

const modePool = new ModePool();
const modesOf = (units: number): number => {
  const modes = new Float64Array(MODE_COUNT);
  modes[Mode.plane] = 17;
  modes[Mode.units] = units;
  modes[Mode.tool] = 4;
  return modePool.intern(modes, true);
};
const millimetres = modesOf(21);

/** A chunk of `lines` lines, one move each, from x = `from`. */
function chunkOf(lines: number, from = 0, movesPerLine = 1): PathChunk {
  const moves = new MoveTable();
  for (let line = 0; line < lines; line++) {
    for (let i = 0; i < movesPerLine; i++) moves.add(from + line, i, 0, line, MoveKind.line, millimetres);
  }
  const position = new Float64Array(9);
  position[0] = from;
  return { version: 1, lineCount: lines, segments: [{ entry: { position }, moves }] };
}

function analysisOf(chunks: PathChunk[]): PathAnalysis {
  return {
    modePool,
    chunks,
    chunkFirstLine: (index) => chunks.slice(0, index).reduce((sum, chunk) => sum + chunk.lineCount, 0),
    runsStraight: true,
    chunkOfLine: (line) => Math.min(line < chunks[0].lineCount ? 0 : 1, chunks.length - 1),
    findings: () => ({
      findings: [
        { line: 2, severity: 'error', message: 'radius' },
        { line: 5, severity: 'hint', message: 'no place' },
      ],
      more: { 'feed-missing': 3 },
    }),
    stateAfter: (line) => ({ position: Float64Array.of(line, line, line, 0, 0, 0, 0, 0, 0) }),
  };
}

const ask = (chunk: number) => ({ uri: 'u', version: 3, chunk, layer: 'program' as const });

function list(analysis: PathAnalysis): PathIndex {
  const index: unknown = JSON.parse(new TextDecoder().decode(packChunkFor(analysis, ask(INDEX_CHUNK))));
  if (!isPathIndex(index)) throw new Error('not a list');
  return index;
}

const fetchPiece = (analysis: PathAnalysis, id: number) => readPackedPath(packChunkFor(analysis, ask(id)));

describe('the list of pieces', () => {
  it('puts chunks together up to a megabyte, with the findings and their places', () => {
    const analysis = analysisOf(Array.from({ length: 300 }, (_, i) => chunkOf(512, i * 512)));
    analysis.chunks[0].segments[0].moves.ends[5 * 3 + 2] = Number.NaN;
    const index = list(analysis);
    expect(index.pieces).toHaveLength(Math.ceil((300 * 513) / Math.floor(MAX_VERTICES / 513) / 513));
    for (const { id, vertices } of index.pieces) {
      const data = packChunkFor(analysis, ask(id));
      expect(data.byteLength).toBeLessThanOrEqual(1024 * 1024);
      expect(readPackedPath(data)?.vertexCount).toBe(vertices);
    }
    expect(index.findings).toEqual([{ line: 2, severity: 'error', message: 'radius', x: 2, y: 0, z: 0 }]);
    expect(index.unplaced).toBe(4);
    expect(index.inch).toBe(false);
  });

  it('counts lines from the piece, so that lines inserted above change nothing in it', () => {
    const chunks = [chunkOf(3), chunkOf(4, 10)];
    const analysis = analysisOf(chunks);
    const piece = fetchPiece(analysis, list(analysis).pieces[0].id)!;
    expect([...piece.codes].map((code) => code >>> STYLE_BITS)).toEqual([0, 0, 1, 2, 0, 3, 4, 5, 6]);
    expect(rowValue(piece, 1, RowField.tool)).toBe(4);
  });

  it('keeps the ids of all pieces but the one that was edited, also when lines are inserted', () => {
    const chunks: PathChunk[] = Array.from({ length: 400 }, (_, i) => chunkOf(512, i * 512));
    const analysis = analysisOf(chunks);
    const before = list(analysis);
    chunks[130] = { ...chunkOf(513, 130 * 512), version: 2 };
    const after = list(analysis);
    const known = new Set(before.pieces.map(({ id }) => id));
    expect(after.pieces.filter(({ id }) => !known.has(id))).toHaveLength(1);
    expect(after.pieces[3].firstLine).toBe(before.pieces[3].firstLine + 1);
    chunks.splice(20, 0, chunkOf(512, 0));
    const third = list(analysis);
    const knownThen = new Set(after.pieces.map(({ id }) => id));
    expect(third.pieces.filter(({ id }) => !knownThen.has(id)).length).toBeLessThanOrEqual(2);
  });

  it('splits a chunk whose moves alone are more than a megabyte, with the right lines', () => {
    const analysis = analysisOf([chunkOf(2), chunkOf(100, 0, 2000), chunkOf(5)]);
    const { pieces } = list(analysis);
    expect(pieces.length).toBeGreaterThan(3);
    const lines = new Set<number>();
    for (const { id, firstLine } of pieces) {
      for (const code of fetchPiece(analysis, id)!.codes)
        if ((code & STYLE_MASK) > 0) lines.add(firstLine + (code >>> STYLE_BITS));
    }
    expect([...lines].sort((a, b) => a - b)).toEqual(Array.from({ length: 107 }, (_, i) => i));
  });

  it('marks a finding before the first move where the machine stands, and asks the executor where a chunk ran oftener', () => {
    const { segments, ...rest } = chunkOf(3);
    const early = analysisOf([{ ...rest, lineCount: 9, segments: [{ ...segments[0], moves: new MoveTable() }] }]);
    expect(list(early).findings.map(({ line, x, y, z }) => [line, x, y, z])).toEqual([
      [2, 0, 0, 0],
      [5, 0, 0, 0],
    ]);
    const looped = analysisOf([{ ...rest, lineCount: 9, segments: [segments[0], segments[0]] }]);
    expect(list(looped).findings.map(({ x, y, z }) => [x, y, z])).toEqual([
      [2, 2, 2],
      [5, 5, 5],
    ]);
  });

  it('takes a program without a move', () => {
    const empty: PathChunk = { version: 1, lineCount: 9, segments: [] };
    const analysis = analysisOf([empty]);
    const { pieces } = list(analysis);
    expect(pieces).toEqual([{ id: pieces[0].id, firstLine: 0, vertices: 0, seconds: 0 }]);
    expect(fetchPiece(analysis, pieces[0].id)?.vertexCount).toBe(0);
    expect(list({ ...analysisOf([]), findings: () => ({ findings: [], more: {} }) }).pieces).toEqual([]);
  });

  it('answers nothing for a piece whose moves have changed since the list', () => {
    const chunk = chunkOf(3) as { version: number } & PathChunk;
    const analysis = analysisOf([chunk]);
    const { id } = list(analysis).pieces[0];
    chunk.version++;
    expect(packChunkFor(analysis, ask(id)).byteLength).toBe(0);
  });

  it('tells an inch program', () => {
    const moves = new MoveTable();
    moves.add(25.4, 0, 0, 0, MoveKind.line, modesOf(20));
    const analysis = analysisOf([
      { version: 1, lineCount: 1, segments: [{ entry: { position: new Float64Array(9) }, moves }] },
    ]);
    expect(list(analysis).inch).toBe(true);
  });
});

describe('beside the program’s own path', () => {
  const text =
    'G17 G21 G90 G94 G54 G40\nT1 M6\nS1000 M3\nG0 X0. Y-20. Z5.\nG1 Z-1. F200\nG41 D1 Y0.\nY30.\nX40.\nG40 X60.\nG0 Z5.\n';
  const configuration = {
    ...DEFAULT_CONFIGURATION,
    tools: [{ number: 1, kind: 'end-mill' as const, diameter: 10, radiusOffset: 1 }],
  };
  const run = (program: string): Analysis => {
    const analysis = new Analysis(program, configuration);
    analysis.run();
    return analysis;
  };
  const fetch = (analysis: Analysis, layer: PathLayer, chunk: number, what: PathContent = 'path'): ArrayBuffer =>
    packChunkFor(analysis, { uri: 'u', version: 1, chunk, layer, what }, 1, configuration);
  const listOf = (analysis: Analysis, layer: PathLayer): PathIndex => {
    const index: unknown = JSON.parse(new TextDecoder().decode(fetch(analysis, layer, INDEX_CHUNK)));
    if (!isPathIndex(index)) throw new Error('not a list');
    return index;
  };
  /** Ends of the ways at feed of all pieces: line, X, Y. */
  const cuts = (analysis: Analysis, layer: PathLayer): number[][] =>
    listOf(analysis, layer).pieces.flatMap(({ id, firstLine }) => {
      const { codes, positions, origin } = readPackedPath(fetch(analysis, layer, id))!;
      return [...codes].flatMap((code, i) =>
        (code & STYLE_MASK) < 2
          ? []
          : [[firstLine + (code >>> STYLE_BITS), positions[i * 3] + origin[0], positions[i * 3 + 1] + origin[1]]],
      );
    });

  it('the contour is what is programmed, the path of the cutter’s centre stands beside it', () => {
    const analysis = run(text);
    expect(cuts(analysis, 'contour')).toEqual([
      [5, 0, 0],
      [6, 0, 30],
      [7, 40, 30],
      [8, 60, 30],
    ]);
    expect(cuts(analysis, 'program').some(([, x]) => Math.abs(x + 5) < 1e-6)).toBe(true);
    expect(listOf(analysis, 'contour').summary).toBeUndefined();
  });

  it('there is no contour where nothing is compensated', () => {
    expect(listOf(run(text.replace('G41 D1', '')), 'contour').pieces).toEqual([]);
  });

  it('keeps the pieces of the contour that were not edited', () => {
    const analysis = run(text);
    const before = listOf(analysis, 'contour').pieces;
    analysis.edit(0, 0, 0, 0, '(A REMARK)\n');
    analysis.run();
    const ids = listOf(analysis, 'program').pieces.map(({ id }) => id);
    expect(ids).toHaveLength(1);
    expect(cuts(analysis, 'contour').map(([line]) => line)).toEqual([6, 7, 8, 9]);
    expect(before).toHaveLength(1);
  });

  it('a second program answers as its own', () => {
    const analysis = run(text);
    expect(listOf(analysis, 'other')).toEqual(listOf(analysis, 'program'));
    const { id, vertices } = listOf(analysis, 'other').pieces[0];
    expect(readPackedTimes(fetch(analysis, 'other', id, 'times'))?.seconds).toHaveLength(vertices);
  });

  it('the contour has no times, and neither has a piece that is not there', () => {
    const analysis = run(text);
    const { id } = listOf(analysis, 'contour').pieces[0];
    expect(fetch(analysis, 'contour', id, 'times').byteLength).toBe(0);
    expect(fetch(analysis, 'program', 9999, 'times').byteLength).toBe(0);
  });

  it('answers no times for a piece whose moves have changed since the list', () => {
    const analysis = run(text);
    const { id } = listOf(analysis, 'program').pieces[0];
    analysis.edit(6, 0, 6, 4, 'Y31.');
    analysis.run();
    expect(fetch(analysis, 'program', id, 'times').byteLength).toBe(0);
  });
});

describe('the own request', () => {
  const analysis = analysisOf([chunkOf(3)]);
  const lookup = (uri: string) => (uri === 'u' ? { analysis, version: 12 } : undefined);

  it('answers in base64', () => {
    const { version, data } = answerPathRequest({ uri: 'u', chunk: -1, layer: 'program' }, lookup);
    expect(version).toBe(12);
    const index = JSON.parse(Buffer.from(data, 'base64').toString());
    expect(index.version).toBe(12);
    const piece = answerPathRequest({ uri: 'u', chunk: index.pieces[0].id }, lookup);
    const bytes = Buffer.from(piece.data, 'base64');
    const exact = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length);
    expect(readPackedPath(exact as ArrayBuffer)?.vertexCount).toBe(4);
  });

  it('refuses what it cannot read and what is not open', () => {
    for (const wrong of [
      undefined,
      null,
      5,
      {},
      { uri: 'u' },
      { uri: 'u', chunk: 0.5 },
      { uri: 'u', chunk: 0, layer: 'x' },
      { uri: 'u', chunk: 0, layer: 'program', what: 'y' },
    ]) {
      expect(() => answerPathRequest(wrong, lookup)).toThrow('cannot be read');
    }
    expect(() => answerPathRequest({ uri: 'v', chunk: -1 }, lookup)).toThrow('not open');
  });
});

import { describe, expect, it } from 'vitest';
import { MAX_VERTICES, readPackedPath, STYLE_BITS } from '../core/geometry/packedLayout.ts';
import { INDEX_CHUNK, isPathIndex, type PathIndex } from '../core/geometry/pathRequest.ts';
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
    expect(piece.tools[1]).toBe(4);
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
        if ((code & 15) > 0) lines.add(firstLine + (code >>> STYLE_BITS));
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
    expect(pieces).toEqual([{ id: pieces[0].id, firstLine: 0, vertices: 0 }]);
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
    ]) {
      expect(() => answerPathRequest(wrong, lookup)).toThrow('cannot be read');
    }
    expect(() => answerPathRequest({ uri: 'v', chunk: -1 }, lookup)).toThrow('not open');
  });
});

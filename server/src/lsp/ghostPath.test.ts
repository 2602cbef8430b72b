// What the path view is given of a block in the form: rapids told apart from cuts, and axes that the block itself gives.
import { describe, expect, it } from 'vitest';
import { contextAt } from '../core/blocks/context.ts';
import { generateBlock } from '../core/blocks/generate.ts';
import { blockByName } from '../core/blocks/registry.ts';
import { Analysis } from '../core/checks/analysis.ts';
import { type PackedPath, PathStyle, readPackedPath, STYLE_BITS, STYLE_MASK } from '../core/geometry/packedLayout.ts';
import { INDEX_CHUNK, type InsertedLines, type PathIndex } from '../core/geometry/pathRequest.ts';
import { DEFAULT_CONFIGURATION } from '../core/machine/configuration.ts';
import { packGhost } from './ghostPath.ts';
import { PathPieces } from './pathPieces.ts';

const HEAD = ['G17 G21 G40 G49 G80 G90 G94 G54', 'T1 M6', 'S3000 M3'];

const analysed = (lines: readonly string[]): Analysis => {
  const analysis = new Analysis(`${lines.join('\n')}\n`, DEFAULT_CONFIGURATION);
  analysis.run();
  return analysis;
};

/** The packed path of lines put in behind a program's head; undefined where they move nothing. */
const ghostOf = (head: readonly string[], lines: readonly string[]): PackedPath | undefined => {
  const analysis = analysed([...head, 'M30']);
  const inserted: InsertedLines = { line: head.length, replaced: 0, lines };
  const packed = (chunk: number): ArrayBuffer =>
    packGhost(analysis, { uri: 'u', version: 1, chunk, layer: 'ghost', inserted }, 1, DEFAULT_CONFIGURATION);
  const index: PathIndex = JSON.parse(new TextDecoder().decode(packed(INDEX_CHUNK)));
  const [piece] = index.pieces;
  return piece && readPackedPath(packed(piece.id));
};

const made = (head: readonly string[], name: string, raw: Readonly<Record<string, string>>): readonly string[] => {
  const context = contextAt(analysed([...head, 'M30']), head.length, DEFAULT_CONFIGURATION);
  return generateBlock(blockByName(name)!, raw, context).lines ?? [];
};

/** The ways of a path: text of their line, style. */
const waysOf = ({ codes }: PackedPath, lines: readonly string[]): [string, number][] =>
  [...codes]
    .filter((code) => (code & STYLE_MASK) !== PathStyle.none)
    .map((code) => [lines[code >>> STYLE_BITS], code & STYLE_MASK]);

const BORE = { bore: '20', tool: '10', depth: '6', lead: '1.5', feed: '600', at: '30,20' };

describe('the ghost of a block', () => {
  it('has the style of a rapid on each rapid and on nothing else', () => {
    const lines = made(HEAD, 'helical-bore', BORE);
    const ways = waysOf(ghostOf(HEAD, lines)!, lines);
    const stylesOf = (letters: RegExp): number[] => [
      ...new Set(ways.filter(([line]) => letters.test(line)).map(([, style]) => style)),
    ];
    expect(stylesOf(/^G0 /)).toEqual([PathStyle.rapid]);
    expect(stylesOf(/^G1 /)).toEqual([PathStyle.plunge]);
    expect(stylesOf(/^G3 .*Z/)).toEqual([PathStyle.helix]);
    expect(stylesOf(/^G3 (?!.*Z)/)).toEqual([PathStyle.arc]);
    expect(ways.filter(([line]) => !/^G[013] /.test(line))).toEqual([]);
  });

  it('tells way down and rapids of a drilling cycle apart', () => {
    const lines = made(HEAD, 'holes', {
      operations: 'drill',
      at: '10,10;40,10',
      'drill.diameter': '5',
      'drill.depth': '10',
      'drill.speed': '1500',
      'drill.feed': '120',
    });
    const styles = waysOf(ghostOf(HEAD, lines)!, lines).map(([, style]) => style);
    expect(styles.filter((style) => style === PathStyle.plunge)).toHaveLength(2);
    expect(new Set(styles)).toEqual(new Set([PathStyle.rapid, PathStyle.plunge]));
  });

  it('assumes no axis that the block gives, where the program gives none of them', () => {
    const head = [...HEAD, 'G0 Z50.', 'G1 Z20. F500'];
    const program = analysed([...head, 'M30']);
    const pieces = new PathPieces();
    const [{ id }] = pieces.list(program);
    expect(readPackedPath(pieces.pack(program, id)!)?.assumedAxes).toBe(3);
    expect(ghostOf(head, made(head, 'helical-bore', BORE))?.assumedAxes).toBe(0);
  });

  it('is none where lines move nothing', () => {
    expect(ghostOf(HEAD, ['(NOTHING)', 'S2000 M3'])).toBeUndefined();
  });
});

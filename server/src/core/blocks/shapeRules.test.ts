/** No rule speaks on a pocket, slot, face or chamfer in a program with its blank, tools, material and machine given. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { contextUnder, makeBlock } from '../../../../tests/harness/blocks.ts';
import { type AnyPocket, anyPocket, leastWidth, sharedRaw } from '../../../../tests/harness/pockets.ts';
import { Analysis } from '../checks/analysis.ts';
import { PROFILES } from '../machine/profile.ts';
import type { BlockContext } from './context.ts';

const EDGES = { teeth: 4, cuttingMaterial: 'carbide', length: 60 } as const;

const shopOf = ({ tool, top }: AnyPocket): BlockContext =>
  contextUnder(PROFILES.iso, 'mm', {
    stock: { offset: 'G54', shape: 'box', min: [-60, -60, top - 20], max: [60, 60, top] },
    material: { name: 'steel' },
    machine: { axes: {}, topSpeed: 12000, topFeed: 5000, workOffsets: {} },
    tools: [
      { ...EDGES, number: 7, kind: 'end-mill', diameter: tool, fluteLength: 25, centreCutting: true, rampLimit: 3 },
      { ...EDGES, number: 8, kind: 'chamfer-mill', diameter: 12, pointAngle: 90 },
      { ...EDGES, number: 9, kind: 'face-mill', diameter: 50 },
    ],
  });

/** Names and values of blocks; diameters come from the tool table, speed and feed from the material. */
const blocksOf = (values: AnyPocket): readonly (readonly [string, Readonly<Record<string, string | number>>])[] => {
  const { tool, speed: _, feed: _feed, at: _at, ...shared } = sharedRaw(values);
  const [length, width] = [leastWidth(values) + values.longer, leastWidth(values) + values.wider];
  const cutter = { ...shared, 'tool-number': 7 };
  const entry = values.entry === 'ramp' ? 'helix' : values.entry;
  const open = { direction: values.direction, top: values.top };
  const chamfer = { ...open, size: 1, 'tool-number': 8 };
  return [
    ['round-pocket', { ...cutter, diameter: width }],
    ['rectangular-pocket', { ...cutter, length, width, angle: values.angle }],
    ['slot', { ...cutter, width: tool * 1.5, length: tool * 1.5 + values.longer }],
    [
      'slot',
      { ...cutter, width: tool * 1.5, length: tool * 2 + values.longer, style: 'trochoidal', stepover: 15, entry },
    ],
    ['face', { ...open, length: 120, width: 120, depth: values.depth, 'tool-number': 9 }],
    ['chamfer', { ...chamfer, length: 120, width: 120, corner: 2, side: 'external' }],
    ['chamfer', { ...chamfer, diameter: 50 }],
  ];
};

it('says nothing', () => {
  let count = 0;
  for (const values of fc.sample(anyPocket, { seed: 5, numRuns: 40 })) {
    const context = shopOf(values);
    for (const [name, raw] of blocksOf(values)) {
      const { lines, problems } = makeBlock(name, raw, context);
      // A short slot has no room for a ramp of its cutter.
      if (problems[0]?.message.startsWith('There is only room for a ramp')) continue;
      if (lines === undefined) throw new Error(`${name} ${JSON.stringify(raw)}: ${problems[0]?.message}`);
      count++;
      const program = [
        '%',
        'O1234',
        'G21 G17 G90 G94 G40 G49 G80',
        'G54',
        ...lines,
        'M5',
        'G91 G28 Z0.',
        'G90',
        'M30',
        '%',
        '',
      ];
      const analysis = new Analysis(program.join('\n'), context.configuration);
      analysis.run();
      const said = analysis
        .findings()
        .findings.map(({ line, message }) => `${name} ${JSON.stringify(raw)}: ${program[line]} ${message}`);
      expect(said).toEqual([]);
    }
  }
  expect(count).toBeGreaterThan(260);
});

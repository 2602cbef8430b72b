/** What holds for pockets, slots, faces and chamfers alike: modes put back, several places, own tool, values of the tool table. */
import { describe, expect, it } from 'vitest';
import { contextUnder, runBlock } from '../../../../tests/harness/blocks.ts';
import { WITH_OTHER_MODES } from '../../../../tests/harness/helixWays.ts';
import { notPutBack } from '../../../../tests/harness/putBack.ts';
import { PROFILES } from '../machine/profile.ts';
import { generateBlock } from './generate.ts';
import { sayTime } from './helixWay.ts';
import { blockByName } from './registry.ts';

const CUTTER = { tool: 10, speed: 3000, feed: 500 };
const SHAPES: Readonly<Record<string, Readonly<Record<string, string | number>>>> = {
  'round-pocket': { ...CUTTER, diameter: 40, depth: 6 },
  'rectangular-pocket': { ...CUTTER, length: 60, width: 40, corner: 6, depth: 6, angle: 30 },
  slot: { ...CUTTER, length: 40, width: 14, depth: 6, style: 'trochoidal' },
  face: { ...CUTTER, length: 60, width: 40, depth: 3, direction: 'climb' },
  chamfer: { ...CUTTER, length: 60, width: 40, size: 1, side: 'external' },
};

for (const [name, raw] of Object.entries(SHAPES)) {
  describe(name, () => {
    it('puts back modes, F and S, whatever was in force', () => {
      for (const context of WITH_OTHER_MODES)
        expect(notPutBack(context, runBlock(name, raw, context).lines)).toEqual([]);
    });

    it('is the same at each of several places', () => {
      const [x, y] = [123.5, -40.25];
      const one = runBlock(name, raw).moves.filter(({ to }) => to[2] < 0);
      const two = runBlock(name, { ...raw, at: `0,0;${x},${y}` }).moves.filter(({ to }) => to[2] < 0);
      expect(two).toHaveLength(2 * one.length);
      for (const [i, { to, kind, feed }] of one.entries()) {
        const moved = two[one.length + i];
        expect([moved.kind, moved.feed, moved.to[2]]).toEqual([kind, feed, to[2]]);
        // A quarter of a millimetre is a written number: both are rounded alike but for halves of a last digit.
        expect(Math.hypot(moved.to[0] - to[0] - x, moved.to[1] - to[1] - y)).toBeLessThan(0.0015);
      }
    });

    it('says how long its cuts take', () => {
      const { moves, facts } = runBlock(name, { ...raw, at: '0,0;80,0' });
      const seconds = moves.reduce((sum, move) => sum + (move.kind === 'rapid' ? 0 : move.seconds), 0);
      const near = [-0.2, 0, 0.2].map((off) => sayTime(seconds + off));
      expect(near).toContain(facts.find((fact) => fact.name === 'time')?.text);
    });

    it('turns about its centre', () => {
      if (name === 'round-pocket') return;
      const angle = Number(raw.angle ?? 0);
      const straight = runBlock(name, { ...raw, angle: 0 }).moves;
      const turned = runBlock(name, { ...raw, angle: angle + 90 }).moves;
      const [cosine, sine] = [Math.cos(((angle + 90) * Math.PI) / 180), Math.sin(((angle + 90) * Math.PI) / 180)];
      expect(turned).toHaveLength(straight.length);
      for (const [i, { to }] of straight.entries()) {
        const [x, y] = [to[0] * cosine - to[1] * sine, to[0] * sine + to[1] * cosine];
        expect(Math.hypot(turned[i].to[0] - x, turned[i].to[1] - y)).toBeLessThan(0.0015);
      }
    });

    it('comes out the same from what its marker carries', () => {
      const context = contextUnder(PROFILES.iso, 'inch');
      const made = runBlock(name, { ...raw, at: '10,5', 'floor-allowance': '' }, context);
      const kind = blockByName(name);
      if (kind === undefined) throw new Error(`There is no block ${name}.`);
      expect(generateBlock(kind, made.raw, context, { withoutDefaults: true }).lines).toEqual(made.lines);
    });

    it('changes to its own tool and takes its values from the tool table', () => {
      const context = contextUnder(PROFILES.iso, 'mm', {
        tools: [
          {
            number: 7,
            kind: 'end-mill',
            diameter: 10,
            teeth: 2,
            cuttingMaterial: 'hss',
            fluteLength: 22,
            centreCutting: true,
          },
        ],
      });
      const { tool: _, ...withoutTool } = raw;
      const made = runBlock(name, { ...withoutTool, 'tool-number': 7 }, context);
      expect(made.raw).toMatchObject({ tool: '10', flutes: '2', 'cutting-material': 'hss' });
      expect(made.lines.filter((line) => /^(T7 M6|G43 Z10\. H7)$/.test(line))).toHaveLength(2);
      // 500/(3000·2).
      expect(made.facts.find((fact) => fact.name === 'chip-load')?.text).toMatch(/^0\.083 mm\/tooth/);
    });
  });
}

/** Generated blocks under random edits: their findings are those of a program just opened, wherever the edit is. */
import { describe, expect, it } from 'vitest';
import { seeded } from '../../../../../tests/bench/program.ts';
import { makeBlock } from '../../../../../tests/harness/blocks.ts';
import { editAtRandom, pieces } from '../../../../../tests/harness/randomEdits.ts';
import { snapshotOf } from '../../../../../tests/harness/snapshot.ts';
import { DEFAULT_CONFIGURATION } from '../../machine/configuration.ts';
import { PROFILES } from '../../machine/profile.ts';
import { Analysis } from '../analysis.ts';

const OWN = ['generated-block-edited', 'generated-block-stale', 'marker-broken'];

const BLOCK = `${makeBlock('helical-bore', { bore: 20, tool: 10, depth: 6, lead: 1.5, speed: 4000, feed: 600 }).lines?.join('\n')}\n`;
const CLOSE = `${BLOCK.trimEnd().split('\n').at(-1)}\n`;

const PIECES = [
  BLOCK,
  BLOCK,
  CLOSE,
  '( BLOCKWRIGHT-BLOCK HELICAL-BORE BORE=20 TOOL=10 )\n',
  '( BLOCKWRIGHT-WITH DEPTH=5 )\n',
  '( BLOCKWRIGHT-END TAPPING BODY=1 FOR=2 )\n',
  'T1 M6 (END MILL D10)\n',
  'T2 M6 (END MILL D12)\n',
  'G1 X5. F100\n',
  'G20\n',
  'M30\n',
  '#1=0\nWHILE [#1 LT 3] DO1\nG0 X#1\n#1=#1+1\nEND1\n',
  `#1=0\nWHILE [#1 LT 2] DO1\n${BLOCK}#1=#1+1\nEND1\n`,
  '\n',
  ' ',
  '5',
  '(',
];

const EDITS = [' ', '5', '.', '\n', 'G1 X5.\n', 'T2 M6 (END MILL D12)\n', 'T1 M6 (END MILL D10)\n', '(A)\n', CLOSE];

/** Runs edits; returns how often each of the rules spoke. */
const runEdits = (
  seed: number,
  profile: 'iso' | 'iso-macro',
  startLines: number,
  list: readonly string[],
): Set<string> => {
  const random = seeded(seed);
  const limits = { ...DEFAULT_CONFIGURATION.limits, steps: 400_000 };
  const configuration = { ...DEFAULT_CONFIGURATION, profile: PROFILES[profile], limits };
  let text = pieces(random, PIECES, startLines);
  const analysis = new Analysis(text, configuration);
  analysis.run();
  const spoke = new Set<string>();
  for (let i = 0; i < 20; i++) {
    text = editAtRandom(random, analysis, text, list);
    analysis.run();
    const fresh = new Analysis(text, configuration);
    fresh.run();
    expect(snapshotOf(analysis), `seed ${seed}, edit ${i}`).toEqual(snapshotOf(fresh));
    for (const { rule } of fresh.findings().findings) if (OWN.includes(rule)) spoke.add(rule);
  }
  return spoke;
};

describe('generated blocks under edits', () => {
  it('are judged as in a program just opened', () => {
    const spoke = new Set<string>();
    for (const profile of ['iso', 'iso-macro'] as const) {
      for (let seed = 1; seed <= 4; seed++) {
        for (const list of [PIECES, EDITS])
          for (const rule of runEdits(seed, profile, 8 + seed * 6, list)) spoke.add(rule);
      }
    }
    expect([...spoke].sort()).toEqual(OWN);
  });

  it('are judged again at an edit in their body, and at its undoing', () => {
    const filler = 'G1 X5. F100\n'.repeat(2000);
    const analysis = new Analysis(`T1 M6 (END MILL D10)\n${filler}${BLOCK}${filler}M30\n`);
    const own = (): string[] => {
      analysis.run();
      return analysis.findings().findings.flatMap(({ rule, line }) => (OWN.includes(rule) ? [`${line} ${rule}`] : []));
    };
    expect(own()).toEqual([]);
    const last = BLOCK.trimEnd().split('\n').length - 2;
    for (let line = 2002 + BLOCK.split('\n').findIndex((text) => /^G17/.test(text)); line < 2001 + last; line++) {
      analysis.edit(line, 0, line, 0, 'M8 ');
      expect(own(), `line ${line}`).toEqual(['2001 generated-block-edited']);
      analysis.edit(line, 0, line, 3, '');
      expect(own(), `line ${line}`).toEqual([]);
    }
    analysis.edit(0, 0, 0, 20, 'T1 M6 (END MILL D12)');
    expect(own()).toEqual(['2001 generated-block-stale']);
  });
});

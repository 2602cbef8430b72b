/** Check values of bodies: what counts as a change, and that the quick way computes what the plain one does. */
import { describe, expect, it } from 'vitest';
import { seeded } from '../../../../tests/bench/program.ts';
import { bodyCheck, closingRemark, openingRemarks, parameterCheck, readMarkers } from './markers.ts';

/** FNV-1a over the words as they are defined, written plainly. */
const plainly = (lines: readonly string[]): string => {
  const words = lines.map((line) =>
    line
      .toUpperCase()
      .replace(/^\s*N\s*\d+/, '')
      .replace(/\s+/g, ''),
  );
  let value = 0x811c9dc5;
  for (const character of words.filter((line) => line !== '').join('\n'))
    value = Math.imul(value ^ character.charCodeAt(0), 0x01000193);
  return (value >>> 0).toString(16).toUpperCase().padStart(8, '0');
};

describe('check values', () => {
  it('are FNV-1a: of nothing and of one letter as published', () => {
    // Test vectors of the algorithm's public description: "" and "a" (here A, 0x41: computed the same way).
    expect(bodyCheck([])).toBe('811C9DC5');
    expect(bodyCheck(['A'])).toBe(plainly(['A']));
  });

  it('are the same the quick way, for any lines', () => {
    const random = seeded(3);
    const letters = ['G', 'g', 'x', 'N', 'n', '1', '0', '.', '-', ' ', '\t', '(', ')', 'é', 'ß', ' ', '/', '#', ''];
    for (let i = 0; i < 5000; i++) {
      const lines = Array.from({ length: Math.floor(random() * 5) }, () =>
        Array.from({ length: Math.floor(random() * 12) }, () => letters[Math.floor(random() * letters.length)]).join(
          '',
        ),
      );
      expect(bodyCheck(lines), JSON.stringify(lines)).toBe(plainly(lines));
    }
  });

  it('see each changed word, and neither numbers, spacing, capitals nor empty lines', () => {
    const body = ['N10 G1 X10. Y5. F200', 'N20 G0 Z5.'];
    const same = bodyCheck(body);
    expect(bodyCheck(['g1x10. y5.f200', '', ' G0 Z5. '])).toBe(same);
    for (const other of [
      ['G1 X10. Y5. F201', 'G0 Z5.'],
      ['G1 X10. Y5. F200'],
      ['G1 X10. Y5. F200 G0 Z5.'],
      [...body, 'M9'],
    ])
      expect(bodyCheck(other)).not.toBe(same);
  });

  it('come back from remarks of any length, lists of places too', () => {
    const raw = {
      pattern: 'list',
      at: Array.from({ length: 40 }, (_, i) => `${i},${-i}.5`).join(';'),
      thread: '1/4-20 UNC',
    };
    for (const length of [40, 68]) {
      const body = ['G0 X1.'];
      const texts = [...openingRemarks('holes', raw, length), ...body, closingRemark('holes', raw, body)];
      expect(Math.max(...texts.slice(0, -1).map((text) => text.length))).toBeLessThanOrEqual(length);
      const lines = texts
        .map((text, line) => ({ line, text: `( ${text} )` }))
        .filter(({ text }) => text.includes('BLOCKWRIGHT'));
      const { blocks, broken } = readMarkers(lines);
      expect(broken).toEqual([]);
      expect(blocks[0].raw.at.split('/')).toHaveLength(40);
      expect(parameterCheck(blocks[0].name, blocks[0].raw)).toBe(blocks[0].parameters);
      expect(bodyCheck(body)).toBe(blocks[0].body);
    }
  });
});

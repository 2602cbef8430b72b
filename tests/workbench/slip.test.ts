// The plain reading that the workbench test relies on.
import { expect, it } from 'vitest';
import { findArcSlip } from './slip.ts';

it('reads place and arc of the slip', () => {
  const slip = findArcSlip('G0 X0 Y10.\nG1 Z-2. F200. (K IN A REMARK)\nN30 G2 X10. Y0 K-10. (OUTSIDE CORNER)\n');
  expect(slip).toMatchObject({ line: 3, column: 16, word: 'J-10.', centre: [0, 0], radius: 10, z: -2 });
  expect(slip.repaired).toBe('N30 G2 X10. Y0 J-10. (OUTSIDE CORNER)');
  expect(slip.startAngle).toBeCloseTo(Math.PI / 2);
  expect(slip.sweep).toBeCloseTo(-Math.PI / 2);
});

it('turns the other way for G3', () => {
  const slip = findArcSlip('G0 X10. Y0 Z0\nG3 X10. Y20. I0 K10.\n');
  expect([slip.centre, slip.radius]).toEqual([[10, 10], 10]);
  expect(slip.sweep).toBeCloseTo(Math.PI);
});

it('says so where there is none', () => {
  expect(() => findArcSlip('G2 X1. J5.')).toThrow('no arc with a K word');
});

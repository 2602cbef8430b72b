/** Programs of random parts: whatever the values, home before each change, the modes as written, and no finding. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { GrowingProgram } from '../../../../tests/harness/growingProgram.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { offsetName } from '../machine/machinePosition.ts';
import { Mode } from '../machine/modes.ts';
import { PROFILES } from '../machine/profile.ts';

const OFFSETS = ['G54', 'G55', 'G59', 'G59.2'] as const;
const length = (least: number, most: number) =>
  fc.integer({ min: least * 1000, max: most * 1000 }).map((n) => n / 1000);

const section = fc.record({
  tool: fc.integer({ min: 1, max: 99 }),
  speed: fc.integer({ min: 50, max: 20_000 }),
  hand: fc.constantFrom('right', 'left'),
  coolant: fc.constantFrom('flood', 'mist', 'none'),
  x: length(-300, 300),
  y: length(-300, 300),
  top: length(-50, 50),
  retract: length(5, 60),
  offset: fc.option(fc.constantFrom(...OFFSETS), { nil: undefined }),
  home: fc.constantFrom('reference', 'machine'),
});

const program = fc.record({
  profile: fc.constantFrom(...Object.keys(PROFILES)),
  units: fc.constantFrom('mm', 'inch'),
  offset: fc.constantFrom(...OFFSETS),
  numbered: fc.boolean(),
  marked: fc.boolean(),
  sections: fc.array(section, { minLength: 1, maxLength: 3 }),
  code: fc.constantFrom('m30', 'm2'),
});

const MACHINE = { axes: { Z: { reference: 0 } }, workOffsets: {} };

describe('a program of random parts', () => {
  it('is without a finding and leaves each tool where its section says', () => {
    const run = fc.property(program, ({ profile, units, offset, numbered, marked, sections, code }) => {
      const configuration: Configuration = {
        ...DEFAULT_CONFIGURATION,
        profile: PROFILES[profile],
        machine: MACHINE,
        blockNumbers: { write: numbered, start: 10, step: 10 },
      };
      const grown = new GrowingProgram(configuration);
      grown.add('start', { units, offset, title: 'part', 'tape-mark': marked ? 'yes' : 'no' });
      let zero: string = offset;
      for (const part of sections) {
        zero = part.offset ?? zero;
        const { tool, speed, hand, coolant, x, y, top, retract, home } = part;
        grown.add('tool-section', {
          'tool-number': tool,
          speed,
          hand,
          coolant,
          at: `${x},${y}`,
          top,
          retract,
          home,
          ...(part.offset === undefined ? {} : { offset: part.offset }),
        });
        const { modes, position } = grown.run().stateBefore(grown.lines.length);
        const names = [
          'distance',
          'tool',
          'lengthCompensation',
          'lengthRegister',
          'spindle',
          'speed',
          'coolant',
        ] as const;
        expect(names.map((name) => modes[Mode[name]])).toEqual([
          90,
          tool,
          43,
          tool,
          hand === 'left' ? 4 : 3,
          speed,
          { none: 0, mist: 1, flood: 2 }[coolant],
        ]);
        expect(offsetName(modes[Mode.offset])).toBe(zero);
        // Written to 0.001 mm or 0.0001 in.
        for (const [axis, wanted] of [x, y, top + retract].entries())
          expect(Math.abs(position[axis] - wanted)).toBeLessThan(0.0013);
        const depth = units === 'mm' ? '-3.' : '-0.1';
        grown.lines.push(`G1 Z${depth} F100.`, 'G1 X0. Y0.');
      }
      grown.add('end', { code });
      expect(grown.findings()).toEqual([]);
      const analysis = grown.run();
      for (const [line, text] of grown.lines.entries()) {
        // At home: a height that no work offset of this machine gives a number.
        if (/ M6$/.test(text)) expect(analysis.stateBefore(line).position[2]).toBeNaN();
      }
      const end = analysis.stateBefore(grown.lines.length);
      expect([end.modes[Mode.ended], end.modes[Mode.spindle], end.modes[Mode.coolant]]).toEqual([1, 5, 0]);
      expect(grown.lines.at(-1) === '%').toBe(marked);
    });
    fc.assert(run, { seed: 5, numRuns: 700 });
  });
});

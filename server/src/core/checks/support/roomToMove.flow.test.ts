/** Rules that walk along the path follow loops and calls, and tell each line once. */
import { describe, expect, it } from 'vitest';
import { findingsOf } from '../../../../../tests/harness/ruleTester.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../../machine/configuration.ts';

const HEAD = 'G21 G90 G54\nT1 M6 (END MILL D10)\nS1000 M3\nG0 X0 Y0\nG43 H1 Z30.\nZ2.\n';

/** Lines (from 1) at which a rule speaks. */
const linesOf = (rule: string, program: string, configuration: Partial<Configuration> = {}): number[] =>
  findingsOf(program, { ...DEFAULT_CONFIGURATION, ...configuration })
    .filter((finding) => finding.rule === rule)
    .map(({ line }) => line + 1);

describe('rules about the room to move', () => {
  it('follow a loop and tell its line once', () => {
    const loop = (body: string) => `${HEAD}#1=0\nWHILE [#1 LT 5] DO1\n${body}\n#1=[#1+1]\nEND1\nG0 Z30.\nM30`;
    expect(linesOf('no-retract', loop('G0 X[#1*20.]\nG1 Z-3. F100\nY40.\nG0 Z2.\nY0'))).toEqual([]);
    // The way up is missing: seen where the second pass begins, and at the way back.
    expect(linesOf('no-retract', loop('G0 X[#1*20.]\nG1 Z-3. F100\nY40.\nG0 Y0'))).toEqual([12]);
  });

  it('know the cutter of a hole that a later pass drilled', () => {
    const program = `G21 G90 G54
T1 M6 (DRILL D8)
G0 X0 Y0
G43 H1 Z30.
#1=0
WHILE [#1 LT 3] DO1
G81 X[#1*20.] Y0 Z-16. R2. F200
#1=[#1+1]
END1
G80
G91 G28 Z0
G90
T2 M6 (END MILL D12)
G43 H2 Z30.
G0 X40. Y0
Z-10.
Z30.
M30`;
    expect(linesOf('tool-too-large', program)).toEqual([16]);
    const tools = [{ number: 1, kind: 'drill', diameter: 8, fluteLength: 12 }] as const;
    expect(linesOf('depth-over-flute', program, { tools })).toEqual([7]);
  });

  it('see the way up in a subprogram of the same file', () => {
    const program = (up: string) => `O1\n${HEAD}G1 Z-3. F100\nX40.\nM98 P100\nT2 M6\nM30\nO100\n${up}\nM99`;
    expect(linesOf('no-retract', program('G0 Z30.'))).toEqual([]);
    // Without one the tool still stands where it cut; over a call nothing is said.
    expect(linesOf('no-retract', program('G4 P1.'))).toEqual([]);
    expect(linesOf('no-retract', program('G4 P1.').replace('M98 P100\n', ''))).toEqual([10]);
  });

  it('judge a subprogram in each offset, and its line once', () => {
    const stock = { offset: 'G54', shape: 'box', min: [0, 0, -10], max: [80, 50, 0] } as const;
    const program = `O1
G0 G21 G90
T1 M6 (END MILL D10)
G54 G43 H1 Z30.
M98 P100
G55
M98 P100
G54
M98 P100
M30
O100
G0 X10. Y10.
G0 Z-3.
G0 Z30.
M99`;
    expect(linesOf('rapid-into-stock', program, { stock })).toEqual([13]);
  });
});

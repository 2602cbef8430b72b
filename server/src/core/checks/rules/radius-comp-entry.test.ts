// Cutter radius compensation in and out: common practice, no source; G40 G41 G42 after ISO 6983-1 from memory.
import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const tools = [{ number: 1, kind: 'end-mill', diameter: 8 }] as const;
const configuration = { tools };
const START = 'G21 G0 X-20. Y-20.\n';

testRule('radius-comp-entry', {
  quiet: [
    { program: `${START}G1 G41 D1 X0. Y-10. F300\nY40.\nG40 X-20.\nM30`, configuration },
    { program: `${START}G0 G41 D1 X0. Y-10.\nG1 Y40. F300\nG0 G40 X-20.\nM30`, configuration },
    // Onto the contour by a straight move and a quarter circle: the usual way.
    {
      program: `${START}G1 G41 D1 X-10. Y-10. F300\nG3 X0. Y0. J10.\nG1 Y40.\nG3 X-10. Y50. I-10.\nG1 G40 X-20.\nM30`,
      configuration,
    },
    // The lead-in is as long as the radius.
    { program: 'G0 X0. Y0.\nG1 G41 D1 X4. F300\nY40.\nG40 X0.\nM30', configuration },
    // G40 alone, up, and away.
    { program: `${START}G1 G41 D1 X0. Y-10. F300\nY40.\nG40\nG0 Z50.\nG0 X0. Y0.\nM30`, configuration },
    // The register is not known: nothing is said.
    { program: `${START}G3 G41 D1 X0. Y0. I10. F300\nG1 Y40.\nG40 X-20.\nM30` },
    { program: 'G0 X0. Y0.\nG1 G41 D0 X1. F300\nY40.\nG40 X0.\nM30', configuration },
    // The plane changes behind G40, in one block with it, or before the first move.
    { program: `${START}G1 G41 D1 X0. Y-10. F300\nY40.\nG40 X-20.\nG18\nM30`, configuration },
    { program: `${START}G1 G41 D1 X0. Y-10. F300\nY40.\nG18 G40\nG0 X-20.\nM30`, configuration },
    { program: `${START}G41 D1\nG17\nG1 X0. Y-10. F300\nY40.\nG40 X-20.\nM30`, configuration },
    // By the remark it is told once a contour.
    { program: 'T1 M6 (END MILL D8)\nG0 X0. Y0.\nG1 G41 D1 X20. F300\nY40.\nG40 X0.\nM30' },
  ],
  reports: [
    {
      program: `${START}G3 G41 D1 X0. Y0. I20. F300\n^^^^^^^^^^^^^^^^^^^^^^^^^^^\nG1 Y40.\nG40 X-20.\nM30`,
      configuration,
      findings: [{ message: 'arc-lead-in', says: ['G41', 'Lead in with a straight move', 'radius of 4'] }],
    },
    {
      program:
        'T1 M6 (END MILL D8)\nG0 X-20. Y-20.\nG3 G41 D1 X0. Y0. I20. F300\n^^^^^^^^^^^^^^^^^^^^^^^^^^^\nG1 Y40.\nG40 X-20.\nM30',
      findings: [{ message: 'arc-lead-in' }],
    },
    {
      program: `${START}G1 G41 D1 X0. Y-10. F300\nY40.\nG3 G40 X-10. Y50. I-10.\n^^^^^^^^^^^^^^^^^^^^^^^\nM30`,
      configuration,
      findings: [{ message: 'arc-lead-out' }],
    },
    {
      program: 'G0 X0. Y0.\nG1 G42 D1 X3. F300\n^^^^^^^^^^^^^^^^^^\nY40.\nG40 X0.\nM30',
      configuration,
      findings: [{ message: 'short-lead-in', says: ['3 long', 'radius of 4'] }],
    },
    {
      program: 'G20 G0 X0. Y0.\nG1 G42 D1 X.1 F30\n^^^^^^^^^^^^^^^^^\nY4.\nG40 X0.\nM30',
      configuration: { tools: [{ number: 1, kind: 'end-mill', diameter: 12.7 }] },
      findings: [{ message: 'short-lead-in', says: ['0.1 long', 'radius of 0.25'] }],
    },
    {
      program: 'T1 M6 (END MILL D8)\nG0 X0. Y0.\nG1 G41 D1 X3. F300\n^^^^^^^^^^^^^^^^^^\nY40.\nG40 X0.\nM30',
      findings: [{ message: 'short-lead-in-assumed', severity: 'warning', says: ['remark'] }],
    },
    {
      program: `${START}G1 G41 D1 X0. Y-10. F300\nY40.\nG18\n^^^\nX10.\nG40 X-20.\nM30`,
      configuration,
      findings: [{ message: 'plane-change', says: ['G41'] }],
    },
  ],
});

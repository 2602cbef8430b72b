// An inside radius must not be smaller than the cutter's: elementary geometry. In a right inside corner a step must be as long as the radius.
import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const configuration = { tools: [{ number: 1, kind: 'end-mill', diameter: 8 }] } as const;
const START = 'G21 G0 X-20. Y-20.\nG1 G41 D1 X-10. Y0. F300\nX30.\n';
const REMARK = 'T1 M6 (END MILL D8)\n';
const END = 'G40 Y60.\nM30';

testRule('radius-comp-gouge', {
  quiet: [
    { program: `${START}G3 X35. Y5. J5.\nG1 Y40.\n${END}`, configuration },
    // The cutter's own radius in the corner.
    { program: `${START}G3 X34. Y4. J4.\nG1 Y40.\n${END}`, configuration },
    // A sharp inside corner needs no radius.
    { program: `${START}Y40.\n${END}`, configuration },
    // Outside a small radius and a short step are right.
    { program: `${START}G2 X31. Y-1. J-1.\nG1 Y-40.\n${END}`, configuration },
    { program: `${START}X30.5 Y-.5\nY-40.\n${END}`, configuration },
    // Rounded numbers in a smooth contour.
    { program: `${START}X30.1 Y.001\nX30.2 Y.003\nX30.3 Y.006\nX40.\n${END}`, configuration },
    { program: `${START}G3 X33.9995 Y4. J4.\nG1 Y40.\n${END}`, configuration },
    // Not known how large the cutter is.
    { program: `${START}G3 X31. Y1. J1.\nG1 Y40.\n${END}` },
    { program: `${START}G3 X31. Y1. J1.\nG1 Y40.\nG40 Y60.\nM30`.replace('D1', 'D0'), configuration },
    { program: `${START}G3 X31. Y1. J1.\nG1 Y40.\n${END}`.replace('G41', 'G40'), configuration },
  ],
  reports: [
    {
      program: `${START}G3 X33. Y3. J3.\n^^^^^^^^^^^^^^^\nG1 Y40.\n${END}`,
      configuration,
      findings: [{ message: 'inside-radius', says: ['radius of 3 ', 'radius of 4.'] }],
    },
    {
      program: `${REMARK}${START}G3 X33. Y3. J3.\n^^^^^^^^^^^^^^^\nG1 Y40.\nG3 X30. Y43. I-3.\n${END}`,
      findings: [{ message: 'inside-radius-assumed', severity: 'warning', says: ['remark'] }],
    },
    {
      // A groove narrower than the cutter is told once.
      program: `${START}Y-20.\nX31.\n^^^^\nY40.\n${END}`,
      configuration,
      findings: [{ message: 'short-step', says: ['1 long'] }],
    },
    {
      program: `${START}Y1.\n^^^\nX60.\n${END}`,
      configuration,
      findings: [{ message: 'short-step', says: ['1 long', 'radius of 4'] }],
    },
    {
      program: `${REMARK}${START}Y1.\n^^^\nX60.\n${END}`,
      findings: [{ message: 'short-step-assumed', severity: 'warning' }],
    },
    {
      program: `${START}Y-1.\nX60.\n^^^^\n${END}`,
      configuration,
      findings: [{ message: 'short-step-before', says: ['1 long'] }],
    },
    {
      program: `${REMARK}${START}Y-1.\nX60.\n^^^^\n${END}`,
      findings: [{ message: 'short-step-before-assumed', severity: 'warning' }],
    },
  ],
});

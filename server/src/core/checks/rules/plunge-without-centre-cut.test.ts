import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const HEAD = 'G21 G90 G54\nT1 M6\nS1000 M3\nG0 X30. Y20.\nG43 H1 Z30.\nZ2.\n';
const tools = [
  { number: 1, kind: 'end-mill', diameter: 10, centreCutting: false },
  { number: 2, kind: 'drill', diameter: 8 },
] as const;
const stock = { offset: 'G54', shape: 'box', min: [0, 0, -20], max: [80, 50, 0] } as const;
const configuration = { tools };
const POCKET = 'G1 X40. F300\nY30.\nX20.\nY10.\nX40.\nY20.\nG0 Z5.\nM30';

testRule('plunge-without-centre-cut', {
  quiet: [
    { program: `${HEAD}G1 Z-3. F100\n${POCKET}` },
    {
      program: `${HEAD}G1 Z-3. F100\n${POCKET}`,
      configuration: { tools: [{ number: 1, kind: 'end-mill', centreCutting: true }] },
    },
    // A ramp, and a helix.
    { program: `${HEAD}G1 Z0 F100\nX40. Z-1.\nX20. Z-2.\nX40.\nG0 Z5.\nM30`, configuration },
    { program: `${HEAD}G1 Z0 F100\nG3 I5. Z-3. P3\nG3 I5.\nG0 Z5.\nM30`, configuration },
    { program: `${HEAD}G1 Z0.5 F100\nX40.\nG0 Z5.\nM30`, configuration },
    // Drilled there first.
    {
      program: `G21 G90 G54\nT2 M6\nG0 X30. Y20.\nG43 H2 Z30.\nG81 Z-4. R2. F100\nG80\n${HEAD}G1 Z-3. F100\n${POCKET}`,
      configuration,
    },
    // By hand-written moves, in two pecks.
    {
      program: `G21 G90 G54\nT2 M6\nG0 X30. Y20.\nG43 H2 Z30.\nZ2.\nG1 Z-2. F100\nG0 Z2.\nZ-1.\nG1 Z-4.\nG0 Z30.\n${HEAD}G1 Z-3. F100\n${POCKET}`,
      configuration,
    },
    // Beside the part that it then goes round.
    {
      program: `${HEAD}G0 X-15. Y-15.\nG1 Z-3. F100\nX-5.\nY55.\nX85.\nY-5.\nX-15.\nG0 Z5.\nM30`,
      configuration,
    },
    // Beside the blank.
    { program: `${HEAD}G0 X-15.\nG1 Z-3. F100\nX90.\nG0 Z5.\nM30`, configuration: { tools, stock } },
    // Into what is open already.
    {
      program: `${HEAD}G0 X-15.\nG1 Z-3. F100\nX90.\nG0 Z5.\nX30.\nG1 Z-3. F100\nX40.\nG0 Z5.\nM30`,
      configuration: { tools, stock },
    },
  ],
  reports: [
    {
      configuration,
      program: `${HEAD}G1 Z-3. F100
^^^^^^^^^^^^
${POCKET}`,
      findings: [{ message: 'plunge', says: ['Tool 1', 'Z-3'] }],
    },
    {
      configuration,
      program: `${HEAD}G99 G83 X30. Y20. Z-5. R2. Q1. F100
^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
X40.
^^^^
G80
M30`,
      findings: [
        { message: 'plunge', says: ['Z-5'] },
        { message: 'plunge', says: ['Z-5'] },
      ],
    },
    {
      configuration,
      program: `${HEAD}G1 Z-3. F100
^^^^^^^^^^^^
G0 Z5.
M30`,
      findings: [{ message: 'plunge' }],
    },
    {
      configuration: { tools, stock },
      program: `${HEAD}G1 Z-3. F100
^^^^^^^^^^^^
X40.
G0 Z5.
M30`,
      findings: [{ message: 'plunge' }],
    },
    {
      // A slot, or along an edge: nobody can say.
      configuration,
      program: `${HEAD}G1 Z-3. F100
^^^^^^^^^^^^
X90.
G0 Z5.
M30`,
      findings: [{ message: 'perhaps', severity: 'hint' }],
    },
  ],
});

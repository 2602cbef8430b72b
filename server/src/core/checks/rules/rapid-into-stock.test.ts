import { testRule } from '../../../../../tests/harness/ruleTester.ts';

const HEAD = 'G21 G90 G54\nT1 M6 (END MILL D10)\nS1000 M3\nG0 X-20. Y10.\nG43 H1 Z30.\n';
const box = { offset: 'G54', shape: 'box', min: [0, 0, -20], max: [80, 50, 0] } as const;
const configuration = { stock: box };
const cylinder = {
  stock: { offset: 'G54', shape: 'cylinder', diameter: 60, centre: [0, 0], top: 0, bottom: -30 },
} as const;
/** The same with the end mill in the tool table. */
const inTable = { stock: box, tools: [{ number: 1, kind: 'end-mill', diameter: 10 }] } as const;
/** Two pockets with an island of X35 to X45 between them, floors at Z-5. */
const TWO_POCKETS = `${HEAD}G0 X10. Y10.
Z2.
G1 Z-5. F100
X30.
Y40.
X10.
Y10.
G0 Z2.
X50.
G1 Z-5.
X70.
Y40.
X50.
Y10.
G0 Z2.
`;

testRule('rapid-into-stock', {
  quiet: [
    { program: `${HEAD}G0 X10.\nZ-3.\nG0 X40.\nM30` },
    { program: `${HEAD}G0 X10.\nZ2.\nG1 Z-3. F100\nX40.\nG0 Z2.\nM30`, configuration },
    // Beside the blank, and along its edge.
    { program: `${HEAD}Z-5.\nY60.\nX100.\nG0 Z2.\nM30`, configuration },
    { program: `${HEAD}Z-5.\nX0\nY50.\nX-20.\nM30`, configuration },
    // Where it cut before nothing is certain.
    { program: `${HEAD}G0 X10.\nZ2.\nG1 Z-3. F100\nX40.\nG0 X10.\nZ2.\nM30`, configuration },
    // Another offset: where that lies on the blank nobody knows.
    { program: `${HEAD}G55\nG0 X10. Y10.\nZ-3.\nM30`, configuration },
    // Pecks go back down at rapid into their own hole.
    { program: `${HEAD}G83 X10. Y10. Z-15. R2. Q3. F100\nX70. Y40.\nG80\nM30`, configuration },
    // Another program of the file.
    { program: `M30\nO2\n${HEAD}G0 X10.\nZ-3.\nM30`, configuration },
    // Up and out.
    { program: `${HEAD}Z2.\nG1 X40. F100\nZ-5.\nG0 Z30.\nM30`, configuration },
    // In its own pocket, over the island, and at the floor's own level.
    { program: `${TWO_POCKETS}Z-4.9\nY40.\nG0 Z2.\nX10.\nZ-5.\nX30.\nM30`, configuration },
    // Between them through a slot that was cut before.
    { program: `${TWO_POCKETS}X30. Y20.\nG1 Z-5.\nX50.\nG0 X30.\nM30`, configuration },
    {
      program: `${TWO_POCKETS}X40. Y0\nG1 Z-5.\nG2 X40. Y40. R20.\nG3 X40. Y0 R20.\nG0 Z2.\nX24. Y12.\nZ-4.9\nX26.\nM30`,
      configuration,
    },
    // Round the island by an arc, and down a ramp that was cut before.
    { program: `${HEAD}G0 X40. Y10.\nZ2.\nG1 Z0 F100\nX60. Z-6.\nG0 Z2.\nX55.\nZ-4.\nM30`, configuration },
    {
      program: `${HEAD}G0 X50. Y25.\nZ2.\nG1 Z0 F100\nG3 X50. I-10. Z-5.\nG3 I-10.\nG0 Z2.\nX30.\nZ-4.9\nM30`,
      configuration,
    },
    // A cutter of which nobody knows how large it is.
    { program: `${TWO_POCKETS.replace('END MILL D10', 'ROUGHING')}Z-4.\nX30.\nM30`, configuration },
    // Faced down to Z-2 first.
    {
      program: `${HEAD}Z-2.\nG1 X100. F500\nY19.\nX-20.\nY28.\nX100.\nG0 Y19.\nX40.\nM30`,
      configuration,
    },
    // What another offset cut, a block that is not executed, a turned blank, a shifted zero: nothing is certain then.
    { program: `${TWO_POCKETS}G55\nG1 Z-5.\nX40.\nG54\nG0 Z-4.\nX30. Y10.\nM30`, configuration },
    { program: `${TWO_POCKETS}M98 P77\nG0 Z-4.\nX30. Y10.\nM30`, configuration },
    { program: `${TWO_POCKETS}G0 A90.\nG0 Z-4.\nX30. Y10.\nM30`, configuration },
    { program: `${TWO_POCKETS}G0 A90.\nG1 Z-4.\nG0 Z2.\nA0\nG0 Z-4.\nX30. Y10.\nM30`, configuration },
    { program: `${TWO_POCKETS}G10 L2 P1 X5.\nG1 X30. Y10. Z-5.\nG0 Z-4.\nX60. Y45.\nM30`, configuration },
    // A slot through the island, under a shift of the zero; a subprogram that nobody has may have cut anywhere.
    { program: `${TWO_POCKETS}G52 X5.\nG0 X40.\nG1 Z-5.\nX25.\nG52 X0\nG0 X50.\nM30`, configuration },
    { program: `${HEAD}M98 P77\nG0 X10. Y10.\nZ-3.\nM30`, configuration },
    // Where this cut began nobody knows.
    { program: `G21 G90 G54\nT1 M6 (END MILL D10)\nG43 H1 Z2.\nG1 X10. Z-3. F100\nY20.\nG0 X60.\nM30`, configuration },
    // Another program of the file.
    { program: `${TWO_POCKETS}M30\nO2\n${HEAD}G0 X30. Y10.\nZ-3.\nX40.\nM30`, configuration },
    // By the remark alone the outside is no matter of certainty.
    { program: `${TWO_POCKETS}X33.\nZ-5.\nM30`, configuration },
    // Along the wall, with what a grinder takes off a cutter left over.
    { program: `${TWO_POCKETS}X29.9 Y12.\nZ-5.\nG0 Y38.\nX30.3\nM30`, configuration: inTable },
    // Past a round blank, across the corner of its box.
    { program: `${HEAD}X-31. Y0\nZ-5.\nY-15.\nX-23. Y-25.\nM30`, configuration: cylinder },
  ],
  reports: [
    {
      configuration,
      program: `${HEAD}G0 X10.
Z-3.
^^^^
G0 Z2.
M30`,
      findings: [{ message: 'down', says: ['Z-3,', 'Z0,'] }],
    },
    {
      configuration,
      program: `${HEAD}Z-5.
N50 X100. (ACROSS)
    ^^^^^
M30`,
      findings: [{ message: 'through', says: ['79.9 through', 'Z-5'] }],
    },
    {
      // Far from all that was cut: the cutter's box reaches to X45.
      configuration,
      program: `${HEAD}G0 X10.
Z2.
G1 Z-3. F100
X40.
G0 X70.
^^^^^^^
Z2.
M30`,
      findings: [{ message: 'through', says: ['25 through'] }],
    },
    {
      // From one pocket to the other through the island.
      configuration,
      program: `${TWO_POCKETS}Z-3.
G0 X30.
^^^^^^^
Z2.
M30`,
      findings: [{ message: 'standing', says: ['3 deep', 'Y10', 'to Z0 at least', 'runs at Z-3'] }],
    },
    {
      // The same under a shift of the zero, the blank turned and turned back.
      configuration,
      program: `${TWO_POCKETS}A90.
A0
G52 X20.
Z-3.
G0 X10.
^^^^^^^
Z2.
M30`,
      findings: [{ message: 'standing', says: ['3 deep', 'Y10', 'to Z0 at least'] }],
    },
    {
      // Down into the island, in a loop: told once.
      configuration,
      program: `${TWO_POCKETS}#1=0
WHILE [#1 LT 3] DO1
G0 X40. Y20.
G0 Z-1.
^^^^^^^
G0 Z2.
#1=[#1+1]
END1
M30`,
      findings: [{ message: 'standing', says: ['1 deep', 'X40 Y20'] }],
    },
    {
      // Below the floor of what was cut.
      configuration,
      program: `${TWO_POCKETS}X30. Y40.
Z-7.
^^^^
G0 Z2.
M30`,
      findings: [{ message: 'standing', says: ['2 deep', 'to Z-5 at least', 'at Z-7'] }],
    },
    {
      configuration: inTable,
      program: `${TWO_POCKETS}X33. Y25.
Z-5.
^^^^
M30`,
      findings: [
        {
          message: 'side',
          says: ['tool 1, diameter 10 in the tool table', '5 deep', 'more than 5 away from the blank'],
        },
      ],
    },
    {
      configuration: inTable,
      program: `${HEAD}Y-20.
Z-5.
X-3.
G0 Y70.
^^^^^^^
M30`,
      findings: [
        {
          message: 'outside',
          says: ['tool 1, diameter 10 in the tool table', 'Z-5', 'more than 5 away from the blank'],
        },
      ],
    },
    {
      // Between holes at an R below the top.
      configuration,
      program: `${HEAD}G99 G81 X10. Y10. Z-9. R-2. F100
^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
X70.
^^^^
G80
M30`,
      findings: [{ message: 'down' }, { message: 'through' }],
    },
    {
      configuration: cylinder,
      program: `${HEAD}Y0
X-40.
Z-5.
G0 X0
^^^^^
M30`,
      // 60 in diameter: from X-29.95 (0.05 of its face) to X0.
      findings: [{ message: 'through', says: ['29.95 through'] }],
    },
    {
      configuration: { stock: { ...box, min: [0, 0, -25.4], max: [76.2, 50.8, 25.4] } },
      program: `
G20 G90 G54
G0 X1. Y1.
G43 H1 Z.5
^^^^^^^^^^
M30`,
      findings: [{ message: 'down', says: ['Z0.5', 'Z1,'] }],
    },
  ],
});

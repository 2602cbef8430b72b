import { testRule } from '../../../../../tests/harness/ruleTester.ts';

testRule('parameter-unset', {
  quiet: [
    { program: '#1=5.\nG0 X#1\nM30' },
    { program: 'G0 X#101\n#102=#500+1\nM30' },
    { program: 'IF [#1 EQ #0] THEN #1=5.\nG0 X#1\nM30' },
    { program: 'IF [ # 0 NE #1 ] GOTO 10\nN10 M30' },
    { program: 'IF [[#1 EQ #0] OR [#2 EQ #0]] GOTO 10\nN10 M30' },
    { program: 'IF [1 EQ 0] THEN #5=#1\nM30' },
    { program: '#5=#0\nM30' },
    { program: 'G0 X#5041 (X#1)\nM30' },
    // Arguments of a macro, and what a macro calls.
    { program: 'O1\nG54\nG65 P100 A1.\nM30\nO100\nG0 X#1 Y#2\nM98 P200\nM99\nO200\nG0 Z#3\nM99' },
    // A subprogram in a file of its own, or behind the program: its caller set them.
    { program: 'O100\nG1 X#1 F100\nM99' },
    { program: 'O1\nG54 G0 X1.\nM30\nO100\nG0 X#1\nM99' },
    { program: 'O1\nG54\n#1=5.\nM98 P100\nM30\nO100\nG0 X#1\nM99' },
    // Parameters of the report keep their values from program to program.
    { program: 'G0 X#1\nM2', profile: 'rs274ngc' },
    { program: '#<depth>=2.\nG0 Z#< Depth >\nM30' },
  ],
  reports: [
    {
      program: `
G0 X#1
    ^^
Y#1
Y[2.*#33]
     ^^^
M30`,
      findings: [
        { message: 'unset', says: ['#1'] },
        { message: 'unset', says: ['#33'] },
      ],
    },
    {
      program: `
#<depth>=2.
G0 Z-#<dept>
     ^^^^^^^
M30`,
      findings: [{ message: 'unset-name', says: ['#<dept>'] }],
    },
    {
      program: `
#2=1
WHILE [#2 LT 3] DO1
#2=#2+#3
      ^^
IF [#1 EQ 0] GOTO 10
    ^^
END1
N10 M30`,
      findings: [{ message: 'unset' }, { message: 'unset' }],
    },
    {
      // A plain call shares the caller's variables.
      program: `
O1
G54
M98 P100
M30
O100
G0 X#1
    ^^
M99`,
      findings: [{ message: 'unset' }],
    },
  ],
});

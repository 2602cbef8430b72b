import { describe, expect, it } from 'vitest';
import { testRule } from '../../../../../tests/harness/ruleTester.ts';
import { DEFAULT_CONFIGURATION } from '../../machine/configuration.ts';
import { Analysis } from '../analysis.ts';

testRule('argument-unused', {
  quiet: [
    { program: 'O1\nG65 P100 A1. X2.\nM30\nO100\nG0 X[#1+#24]\nM99' },
    // The text is not at hand, computes its variables, or calls on.
    { program: 'G65 P100 A1. X2.\nM30' },
    { program: 'O1\nG65 P100 A1. X2.\nM30\nO100\nG0 X#[#4]\nM99' },
    { program: 'O1\nG65 P100 A1.\nM30\nO100\nM98 P200\nM99\nO200\nG0 X#1\nM99' },
    { program: 'O1\nG65 P100 I1. I2.\nM30\nO100\nG0 X[#4+#7]\nM99' },
    { program: 'O1\nM98 P100 L2\nM30\nO100\nG0 X1.\nM99' },
    { program: 'O1\nG65 P100 L2 A1.\nM30\nO100\n# 1 = #1 + 1.\nM99' },
  ],
  reports: [
    {
      program: `
O1
G65 P100 A1. D2.
             ^^^
M30
O100
#7=1.
G0 X#1 (#7)
M99`,
      findings: [{ message: 'unused', says: ['D2.', '#7', 'O100'] }],
    },
    {
      program: `
O1
G66 P100 I1. I2.
             ^^^
X1.
G67
M30
O100
G91 G0 X#4
M99`,
      findings: [{ message: 'unused', says: ['I2.', '#7'] }],
    },
    {
      program: `
O1
N5 G65 P100 A1. Z#5
                ^^^
M30
O100
G0 X#1
M99`,
      findings: [{ message: 'unused', says: ['Z#5'] }],
    },
    {
      program: `
O1
G65 P100 I1. I2. I3. I4. I5. I6. I7. I8. I9. I10. I11.
                                                  ^^^^
M30
O100
G0 X[#4+#7+#10+#13+#16+#19+#22+#25+#28+#31]
M99`,
      findings: [{ message: 'no-variable', says: ['I11.'] }],
    },
  ],
});

describe('argument-unused with a macro in a file of its own', () => {
  const told = (file: string): string[] => {
    const analysis = new Analysis('O1\nG65 P100 A1. X2.\nM30', DEFAULT_CONFIGURATION, {
      lookup: () => ({ text: file }),
    });
    analysis.run();
    return analysis
      .findings()
      .findings.filter(({ rule }) => rule === 'argument-unused')
      .map(({ message }) => message.slice(0, 12));
  };

  it('reads the file', () => {
    expect(told('%\nO100\nG0 X#24\nM99\n%')).toEqual(['A1. gives #1']);
    expect(told('%\nO100\nG0 X#24 Y#1\nM99\n%')).toEqual([]);
  });
});

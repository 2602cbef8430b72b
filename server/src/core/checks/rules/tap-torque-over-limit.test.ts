import { testRule } from '../../../../../tests/harness/ruleTester.ts';
import type { Configuration, Material, TapHolder } from '../../machine/configuration.ts';

const run = (tap: string, feed: number): string =>
  `T1 M6 (${tap})\nS100 M3\nG84 X0 Y0 Z-12. R3. F${feed}\nX10.\nG80\nM30`;
const marked = (program: string): string => program.replace(/(G84 .*\n)/, '$1^^^\n');
const of = (name: string, more: Material = {}): Partial<Configuration> => ({ material: { name, ...more } });
const held = (thread: string, holder: TapHolder, forming = false): Partial<Configuration> => ({
  tools: [{ number: 1, kind: 'tap', thread, holder, forming }],
});
const weak: TapHolder = { kind: 'float', float: 8, torque: 5 };

testRule('tap-torque-over-limit', {
  quiet: [
    { program: run('TAP M20', 250), configuration: of('C45') },
    { program: run('TAP M3', 50), configuration: of('stainless 304') },
    // No material, no figure; a name that says nothing, too.
    { program: run('', 150), configuration: held('M10', weak) },
    { program: run('', 150), configuration: { ...held('M10', weak), ...of('our usual one') } },
    // 1.25² · 8 · 2200 / 8000 = 3.4 N·m.
    { program: run('', 125), configuration: { ...held('M8', weak), ...of('steel') } },
    { program: run('', 150), configuration: { ...held('M10', weak), ...of('aluminium') } },
    // Forming taps and taper threads follow no such formula.
    { program: run('', 150), configuration: { ...held('M10', weak, true), ...of('steel') } },
    { program: run('', 141.1), configuration: { ...held('1/4 NPT', weak), ...of('steel') } },
  ],
  reports: [
    {
      // 1.5² · 10 · 2200 / 8000 = 6.2 N·m.
      configuration: { ...held('M10', weak), ...of('steel') },
      program: marked(run('', 150)),
      findings: [{ message: 'holder', says: ['M10X1.5 in steel', '6.2 N·m', 'kc 2200', 'holder gives 5 N·m'] }],
    },
    {
      // kc11 1700 at a chip of 0.65 · 1.5 / 9 = 0.108 mm: 1700 · 0.108^−0.25 = 2963 N/mm².
      configuration: { ...held('M10', { ...weak, torque: 8 }), ...of('our steel', { kc11: 1700, mc: 0.25 }) },
      program: marked(run('', 150)),
      findings: [{ message: 'holder', says: ['8.3 N·m', 'kc 2963'] }],
    },
    {
      configuration: of('armour', { kc11: 7000 }),
      program: marked(run('TAP M10', 150)),
      findings: [{ message: 'tap', says: ['19.7 N·m', 'stands about 16 N·m'] }],
    },
  ],
});

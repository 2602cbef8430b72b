import { testRule } from '../../../../../tests/harness/ruleTester.ts';
import type { Configuration } from '../../machine/configuration.ts';

const run = (speed: number, tap = 'TAP M6X1'): string =>
  `T1 M6 (${tap})\nS${speed} M3\nG84 X0 Y0 Z-12. R3. F${speed}\nX10.\nG80\nM30`;
const marked = (program: string): string => program.replace(/(G84 .*\n)/, '$1^^^\n');
const of = (name: string): Partial<Configuration> => ({ material: { name } });
const carbide = { tools: [{ number: 1, kind: 'tap', thread: 'M6', cuttingMaterial: 'carbide' }] } as const;

testRule('tap-speed-high', {
  quiet: [
    { program: run(500) },
    // 57 m/min: fast, and right in soft aluminium.
    { program: run(3000) },
    { program: run(1800), configuration: of('C45') },
    { program: run(3000), configuration: of('AlMg3') },
    { program: run(3600), configuration: { ...of('C45'), ...carbide } },
    // Nobody knows the diameter.
    { program: run(6000, 'TAP') },
    { program: run(6000, 'DRILL D5') },
  ],
  reports: [
    {
      // π · 6 · 4000 / 1000 = 75 m/min.
      program: marked(run(4000)),
      findings: [{ message: 'high', says: ['S4000 on M6X1 is 75 m/min', '60 m/min', 'softest', 'S3100'] }],
    },
    {
      configuration: of('C45'),
      program: marked(run(2000)),
      findings: [{ message: 'high', says: ['38 m/min', 'taps in steel', '35', 'S1800'] }],
    },
    {
      configuration: { ...of('stainless 304'), ...carbide },
      program: marked(run(2500)),
      findings: [{ message: 'high', says: ['carbide taps in stainless steel', '40'] }],
    },
  ],
});

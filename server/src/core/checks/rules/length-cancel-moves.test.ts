import { testRule } from '../../../../../tests/harness/ruleTester.ts';
import type { Configuration } from '../../machine/configuration.ts';

const start = 'T1 M6\nG0 X0 Y0 S1000 M3\nG43 H1 Z5.\nG1 Z-2. F100\n';
const lengths: Partial<Configuration> = {
  tools: [
    { number: 1, kind: 'end-mill', length: 120 },
    { number: 2, kind: 'drill', length: 90 },
  ],
};

testRule('length-cancel-moves', {
  quiet: [
    { program: `${start}G0 Z50.\nG91 G28 Z0.\nG49\nG90 X0\nM30` },
    { program: `${start}G0 Z50.\nG91 G28 Z0. G49\nT2 M6\nG90 G0 Z50.\nM30` },
    { program: `${start}G0 Z50.\nG49\nG53 G0 Z0.\nT2 M6\nM30` },
    { program: `${start}G0 Z5.\nG49 G53 G0 Z0.\nM30` },
    // Z0 is the machine's where all of Z is in the length registers.
    { program: `${start}G0 G49 Z0.\nM30` },
    { program: `${start}G0 Z5.\nG49 Z100.\nM30` },
    { program: `${start}G0 Z5.\nG49\nX50.\nG43 H1 Z5.\nG1 Z-1.\nM30` },
    // Safe start blocks cancel what is not on.
    { program: `G40 G49 G80\n${start}G0 Z50.\nM30` },
    { program: 'G49\nG0 Z5.\nG1 Z-1. F100\nM30' },
    // Known lengths: up by more than the tool is long.
    { program: `${start}G0 Z5.\nG49 Z150.\nM30`, configuration: lengths },
    { program: `${start}G0 Z50.\nT2 M6\nG43 H2 Z5.\nG1 Z-1.\nM30`, configuration: lengths },
    { program: `${start}G0 Z50.\nG43 H2 Z50.\nM30`, configuration: lengths },
    { program: `G20\n${start}G0 Z2.\nG91 G28 Z0.\nG49\nM2`, profile: 'rs274ngc' },
  ],
  reports: [
    {
      program: `
T1 M6
G43 H1 Z5.
G1 Z-2. F100
G0 Z5.
G49
G0 X20.
G0 Z1.
^^^^^^
G1 Z-2.
M30`,
      findings: [{ message: 'down', says: ['length of tool 1', 'down to Z1', 'G43 H1'] }],
    },
    {
      program: `
T1 M6
G43 H1 Z5.
G1 Z-2. F100
G0 G49 Z50.
^^^^^^^^^^^
M30`,
      findings: [{ message: 'in-work', says: ['at Z-2'] }],
    },
    {
      profile: 'rs274ngc',
      program: `
G20
T1 M6
G0 G43 H1 Z1.
G1 Z-.1 F10.
G49
G1 X2.
^^^^^^
X3.
M2`,
      findings: [{ message: 'cut', says: ['tool 1', 'G43 H1'] }],
    },
    {
      configuration: lengths,
      program: `
T1 M6
G43 H1 Z5.
G1 Z-2. F100
G0 Z5.
G49
G0 Z100.
^^^^^^^^
M30`,
      findings: [{ message: 'sinks', says: ['G49 takes 120 mm', 'at Z100', 'tip of tool 1 comes to Z-20'] }],
    },
    {
      configuration: {
        ...lengths,
        stock: { offset: 'G54', shape: 'box', min: [0, 0, -20], max: [80, 50, 10] },
      },
      program: `
T1 M6
G43 H1 Z5.
G1 Z-2. F100
G0 Z35.
G43 H2 Z35.
^^^^^^^^^^^
M30`,
      findings: [{ message: 'sinks', says: ['H2 takes 30 mm', 'comes to Z5'] }],
    },
  ],
});

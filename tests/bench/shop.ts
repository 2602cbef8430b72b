/** What the shop's file gives for `tappedProgram`, so that no rule lacks what it needs: machine, tools, threads, blank, material. */
import { type Configuration, DEFAULT_CONFIGURATION } from '../../server/src/core/machine/configuration.ts';

const holder = { kind: 'synchronised' } as const;

/** A travel and a blank that hold the whole path of the finishing program. */
export const shop: Configuration = {
  ...DEFAULT_CONFIGURATION,
  machine: {
    axes: { X: { min: -1000, max: 1000 }, Y: { min: -1000, max: 40_000 }, Z: { min: -500, max: 500 } },
    topFeed: 15_000,
    topSpeed: 18_000,
    spindleRunUp: 2,
    workOffsets: { G54: { X: 0, Y: 0, Z: 0 } },
  },
  tools: [
    {
      number: 1,
      kind: 'ball-mill',
      diameter: 6,
      teeth: 2,
      length: 80,
      fluteLength: 12,
      cuttingMaterial: 'carbide',
      centreCutting: true,
    },
    { number: 2, kind: 'spot-drill', diameter: 8, pointAngle: 90, length: 70, cuttingMaterial: 'hss' },
    { number: 3, kind: 'drill', diameter: 5, pointAngle: 118, length: 100, fluteLength: 52, cuttingMaterial: 'hss' },
    { number: 4, kind: 'drill', diameter: 5.1, pointAngle: 118, length: 100, fluteLength: 52, cuttingMaterial: 'hss' },
    { number: 5, kind: 'tap', thread: 'M6', length: 95, holder },
    { number: 6, kind: 'tap', thread: '1/4-20 UNC', length: 95, holder },
  ],
  stock: { offset: 'G54', shape: 'box', min: [-20, -1000, -30], max: [430, 40_000, 0] },
  material: { name: 'STEEL', kc11: 1800, mc: 0.25, cuttingSpeed: { hss: [15, 40], carbide: [60, 300] } },
};

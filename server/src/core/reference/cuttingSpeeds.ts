/**
 * Cutting speeds by material, kind of tool and what its edge is of, m/min. Common practice, no source: round ranges as small
 * shops run them, from cautious to brisk. The tool maker's data comes first, always.
 */
import { materialGroup } from './materials.ts';
import type { ToolKind } from './toolRemark.ts';

type Range = readonly [least: number, most: number];

/** Milling with high-speed steel, milling with carbide, drilling with high-speed steel, drilling with carbide. */
type Row = readonly [millHss: Range, millCarbide: Range, drillHss: Range, drillCarbide: Range];

const rows: Readonly<Record<string, Row>> = {
  'stainless steel': [
    [10, 20],
    [50, 100],
    [8, 15],
    [40, 80],
  ],
  'heat-resistant alloy': [
    [4, 8],
    [20, 40],
    [3, 7],
    [15, 30],
  ],
  titanium: [
    [8, 15],
    [40, 70],
    [6, 12],
    [25, 50],
  ],
  'hard steel': [
    [6, 12],
    [30, 70],
    [5, 10],
    [25, 50],
  ],
  'cast iron': [
    [15, 25],
    [80, 140],
    [15, 25],
    [60, 110],
  ],
  'cast aluminium': [
    [50, 120],
    [150, 400],
    [40, 80],
    [100, 200],
  ],
  aluminium: [
    [60, 150],
    [200, 500],
    [50, 100],
    [120, 250],
  ],
  brass: [
    [40, 80],
    [120, 250],
    [40, 70],
    [90, 180],
  ],
  bronze: [
    [25, 45],
    [90, 180],
    [20, 40],
    [60, 120],
  ],
  copper: [
    [30, 60],
    [120, 250],
    [25, 50],
    [70, 140],
  ],
  plastic: [
    [60, 150],
    [150, 400],
    [40, 80],
    [80, 160],
  ],
  'alloyed steel': [
    [12, 22],
    [70, 120],
    [10, 18],
    [50, 90],
  ],
  steel: [
    [18, 30],
    [90, 160],
    [18, 28],
    [70, 110],
  ],
};

/** A tap runs at a part of its highest speed; reamers and countersinks at a part of a drill's (common practice, no source). */
const REAM_SHARE = 0.4;
const SINK_SHARE = 0.5;
const TAP_LEAST_SHARE = 0.3;
const TAP_MOST_SHARE = 0.7;

/** The highest of the table for any material, m/min; undefined for a kind of tool that the table does not know. */
export const highestCuttingSpeed = (kind: ToolKind, cutting: 'hss' | 'carbide'): number | undefined => {
  const all = Object.keys(rows).flatMap((name) => cuttingSpeedRange(name, kind, cutting)?.[1] ?? []);
  return all.length === 0 ? undefined : Math.max(...all);
};

/** [least, most] in m/min for a material by its name or group; undefined for a material or kind that the table does not know. */
export const cuttingSpeedRange = (material: string, kind: ToolKind, cutting: 'hss' | 'carbide'): Range | undefined => {
  const group = materialGroup(material);
  if (group === undefined) return undefined;
  if (kind === 'tap')
    return [Math.round(group.tapSpeed * TAP_LEAST_SHARE), Math.round(group.tapSpeed * TAP_MOST_SHARE)];
  const row = rows[group.name];
  const drill = cutting === 'hss' ? row[2] : row[3];
  const scaled = (share: number): Range => [Math.round(drill[0] * share), Math.round(drill[1] * share)];
  switch (kind) {
    case 'drill':
    case 'spot-drill':
    case 'centre-drill':
      return drill;
    case 'reamer':
      return scaled(REAM_SHARE);
    case 'countersink':
      return scaled(SINK_SHARE);
    case 'end-mill':
    case 'ball-mill':
    case 'face-mill':
    case 'chamfer-mill':
    case 'thread-mill':
    case 'boring-bar':
    case 'engraver':
      return cutting === 'hss' ? row[0] : row[1];
    case 'probe':
    case 'other':
      return undefined;
  }
};

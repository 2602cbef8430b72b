/**
 * Modal groups of the G and M codes, after ISO 6983-1 and NIST IR 6556 (from memory). G codes are kept as number × 10,
 * so that 59.1 is 591.
 */
import type { ControlProfile } from './profile.ts';

/** Groups of codes; at most one code of a group may stand in a block. */
export const Group = {
  none: 0,
  motion: 1,
  cycle: 2,
  plane: 3,
  distance: 4,
  arcDistance: 5,
  feedMode: 6,
  speedMode: 7,
  units: 8,
  radiusCompensation: 9,
  lengthCompensation: 10,
  retract: 11,
  offset: 12,
  pathControl: 13,
  scaling: 14,
  rotation: 15,
  polar: 16,
  /** Codes that hold for their own block. */
  once: 17,
  mirror: 18,
  macroCall: 19,
  stop: 20,
  toolChange: 21,
  spindle: 22,
  coolant: 23,
  override: 24,
  call: 25,
} as const;

/** How many groups there are. */
export const GROUP_COUNT = 26;

const G_GROUPS: readonly (readonly [number, readonly number[]])[] = [
  [Group.motion, [0, 10, 20, 30, 330, 382, 383, 384, 385]],
  [Group.cycle, [730, 740, 760, 800, 810, 820, 830, 840, 850, 860, 870, 880, 890]],
  [Group.plane, [170, 180, 190]],
  [Group.distance, [900, 910]],
  [Group.arcDistance, [901, 911]],
  [Group.feedMode, [930, 940, 950]],
  [Group.speedMode, [960, 970]],
  [Group.units, [200, 210]],
  [Group.radiusCompensation, [400, 410, 420]],
  [Group.lengthCompensation, [430, 440, 490]],
  [Group.retract, [980, 990]],
  [Group.offset, [540, 541, 550, 560, 570, 580, 590, 591, 592, 593]],
  [Group.pathControl, [610, 611, 630, 640]],
  [Group.scaling, [500, 510]],
  [Group.rotation, [680, 690]],
  [Group.polar, [150, 160]],
  [Group.once, [40, 90, 100, 280, 290, 300, 520, 530, 920, 921, 922, 923]],
];

const M_GROUPS: readonly (readonly [number, readonly number[]])[] = [
  [Group.stop, [0, 1, 2, 30]],
  [Group.toolChange, [6]],
  [Group.spindle, [3, 4, 5, 19]],
  [Group.coolant, [7, 8, 9]],
  [Group.override, [48, 49]],
  [Group.call, [98, 99, 17]],
];

/** Group by code; 255 where the code is not known. */
export interface CodeTable {
  /** By G number × 10, 0 to 9999. */
  readonly g: Uint8Array;
  /** By M number, 0 to 999. */
  readonly m: Uint8Array;
}

/** Not a known code. */
export const UNKNOWN_GROUP = 255;

/** The codes that a control with this profile knows. */
export const codeTable = (profile: ControlProfile): CodeTable => {
  const g = new Uint8Array(10_000).fill(UNKNOWN_GROUP);
  const m = new Uint8Array(1000).fill(UNKNOWN_GROUP);
  for (const [group, codes] of G_GROUPS) for (const code of codes) g[code] = group;
  for (const [group, codes] of M_GROUPS) for (const code of codes) m[code] = group;
  if (profile.flow) for (const code of [650, 660, 670]) g[code] = Group.macroCall;
  if (profile.units7071) for (const code of [700, 710]) g[code] = Group.units;
  if (profile.mirrorCodes) for (const code of [501, 511]) g[code] = Group.mirror;
  for (const code of profile.withoutCodes) g[code] = UNKNOWN_GROUP;
  if (profile.flow && profile.localCallCode >= 0) m[profile.localCallCode] = Group.call;
  if (!profile.flow) for (const code of [98, 99, 17]) m[code] = UNKNOWN_GROUP;
  for (const code of profile.extraG) if (g[code] === UNKNOWN_GROUP) g[code] = Group.none;
  for (const code of profile.extraM) if (m[code] === UNKNOWN_GROUP) m[code] = Group.none;
  if (profile.synchronisedTappingCode >= 0) m[profile.synchronisedTappingCode] = Group.none;
  return { g, m };
};

/** What the shop's file gives the core: profile, tools, severities. Checked by the loader before it gets here. */
import type { ToolKind } from '../reference/toolRemark.ts';
import { type ControlProfile, DEFAULT_PROFILE } from './profile.ts';

/** What holds a tap. Lengths mm. */
export interface TapHolder {
  readonly kind: 'synchronised' | 'float' | 'reversing';
  readonly float?: number;
  readonly selfFeed?: number;
  readonly ratio?: number;
  readonly freeUp?: number;
  readonly torque?: number;
}

/** A row of the tool table; lengths mm, whatever the file's units. */
export interface ToolRow {
  readonly number: number;
  readonly kind: ToolKind;
  readonly description?: string;
  readonly diameter?: number;
  readonly cornerRadius?: number;
  readonly tip?: number;
  readonly pointAngle?: number;
  readonly teeth?: number;
  readonly length?: number;
  readonly fluteLength?: number;
  readonly cuttingMaterial?: 'hss' | 'carbide';
  readonly centreCutting?: boolean;
  readonly hand?: 'right' | 'left';
  readonly rampLimit?: number;
  readonly lengthOffset?: number;
  readonly radiusOffset?: number;
  readonly thread?: string;
  readonly forming?: boolean;
  readonly leadTurns?: number;
  readonly holder?: TapHolder;
}

/** Severity of a rule as the shop or the editor wants it. */
export type RuleSetting = 'error' | 'warning' | 'hint' | 'off';

/** Letters of the axes, in the order of positions. */
export type AxisLetter = 'X' | 'Y' | 'Z' | 'A' | 'B' | 'C' | 'U' | 'V' | 'W';

/** One axis of the machine; machine positions in mm (degrees), rapid mm/min, acceleration mm/s². */
export interface MachineAxis {
  readonly min?: number;
  readonly max?: number;
  readonly rapid?: number;
  readonly acceleration?: number;
  /** Machine position of the reference point. */
  readonly reference?: number;
}

/** The machine. Lengths mm, feeds mm/min, speeds rev/min, power kW, times s. */
export interface Machine {
  readonly axes: Readonly<Partial<Record<AxisLetter, MachineAxis>>>;
  readonly topFeed?: number;
  readonly topSpeed?: number;
  readonly power?: number;
  readonly cornerTolerance?: number;
  readonly toolChange?: number;
  readonly spindleRunUp?: number;
  /** Machine positions of the work zeros by offset as written (G54, G59.1, G54.1 P3). */
  readonly workOffsets: Readonly<Record<string, Readonly<Partial<Record<AxisLetter, number>>>>>;
}

/** A material: specific cutting force at 1 mm² (N/mm²) with its exponent, cutting speeds [lowest, highest] in m/min. */
export interface Material {
  readonly kc11?: number;
  readonly mc?: number;
  readonly cuttingSpeed?: {
    readonly hss?: readonly [number, number];
    readonly carbide?: readonly [number, number];
  };
}

/** The blank, in work coordinates of its offset, mm. */
export type Stock =
  | {
      readonly offset: string;
      readonly shape: 'box';
      readonly min: readonly [number, number, number];
      readonly max: readonly [number, number, number];
    }
  | {
      readonly offset: string;
      readonly shape: 'cylinder';
      readonly diameter: number;
      readonly centre: readonly [number, number];
      readonly top: number;
      readonly bottom: number;
    };

/** Limits of a run. */
export interface RunLimits {
  readonly steps: number;
  readonly depth: number;
  readonly moves: number;
  readonly seconds: number;
}

/** Block numbers (N) of generated blocks. */
export interface BlockNumbers {
  readonly write: boolean;
  readonly start: number;
  readonly step: number;
}

/** Everything that a program is read, executed and judged under. */
export interface Configuration {
  readonly profile: ControlProfile;
  readonly tools: readonly ToolRow[];
  readonly rules: Readonly<Record<string, RuleSetting>>;
  readonly blockDelete: 'execute' | 'skip';
  readonly blockNumbers: BlockNumbers;
  /** Kind of holder assumed for a tap whose own is not known. */
  readonly holder?: TapHolder['kind'];
  readonly limits: RunLimits;
  readonly machine?: Machine;
  /** The material in force, with its name. */
  readonly material?: Material & { readonly name: string };
  readonly stock?: Stock;
}

/** What holds where there is no shop's file. */
export const DEFAULT_CONFIGURATION: Configuration = {
  profile: DEFAULT_PROFILE,
  tools: [],
  rules: {},
  blockDelete: 'execute',
  blockNumbers: { write: false, start: 10, step: 10 },
  limits: { steps: 50_000_000, depth: 32, moves: 5_000_000, seconds: 60 },
};

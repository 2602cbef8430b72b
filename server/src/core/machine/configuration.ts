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

/** Limits of a run. */
export interface RunLimits {
  readonly steps: number;
  readonly depth: number;
  readonly moves: number;
  readonly seconds: number;
}

/** Everything that a program is read, executed and judged under. */
export interface Configuration {
  readonly profile: ControlProfile;
  readonly tools: readonly ToolRow[];
  readonly rules: Readonly<Record<string, RuleSetting>>;
  readonly blockDelete: 'execute' | 'skip';
  /** Kind of holder assumed for a tap that is not in the tool table. */
  readonly holder?: TapHolder['kind'];
  readonly limits: RunLimits;
}

/** What holds where there is no shop's file. */
export const DEFAULT_CONFIGURATION: Configuration = {
  profile: DEFAULT_PROFILE,
  tools: [],
  rules: {},
  blockDelete: 'execute',
  limits: { steps: 50_000_000, depth: 32, moves: 5_000_000, seconds: 60 },
};

/** The numbers of rapids through the blank, as messages have them. */
import type { MessageData } from '../rule.ts';
import { asLength } from './programLengths.ts';
import type { StandingRapid } from './stockWalk.ts';
import { type ToolShape, toolName } from './toolShape.ts';

/** `{tool}`, and where its diameter is known `{diameter}` and `{radius}`. */
export const cutterData = (tool: ToolShape, unit: number): MessageData => {
  const diameter = tool.diameter ?? 0;
  return { tool: toolName(tool), diameter: asLength(diameter, unit), radius: asLength(diameter / 2, unit) };
};

/** Where a rapid goes through what stands, how deep, and with what. */
export const standingData = (rapid: StandingRapid, unit: number): MessageData => ({
  depth: asLength(rapid.standing - rapid.level, unit),
  x: asLength(rapid.x, unit),
  y: asLength(rapid.y, unit),
  level: asLength(rapid.level, unit),
  standing: asLength(rapid.standing, unit),
  cutter: toolName(rapid.unknownTool ?? rapid.tool),
  ...cutterData(rapid.tool, unit),
});

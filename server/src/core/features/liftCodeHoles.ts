/** Equal cycles in ordinary code as a block `holes`; where a tap is in the spindle, as a block `tapping`. Lengths mm. */
import type { RawValues } from '../blocks/parameter.ts';
import { short } from '../blocks/readValues.ts';
import { tapUnder } from '../checks/support/tapInSpindle.ts';
import type { ToolShape } from '../checks/support/toolShape.ts';
import { drillPointLength } from '../reference/threadMeasures.ts';
import type { Lift, LiftSource } from './liftCode.ts';
import { type CycleStretch, cycleStretchAt, isSameHoles } from './liftCodeCycles.ts';
import { patternFor } from './liftCodePatterns.ts';
import { type Spoke, type TappingWork, tappingLifts } from './liftCodeTapping.ts';

/** Whole point angle of a drill that nobody measured, degrees; the default of the block. */
const USUAL_POINT = 118;
const PECKING = [730, 830];
const BORING: Readonly<Record<number, string>> = { 850: '85', 860: '86', 890: '89', 760: '76' };

/** What an operation of the block takes, and whether the code says all of it. */
interface Operation {
  readonly values: RawValues;
  readonly isWhole: boolean;
}

const text = (value: number): string => short(value, 4);
const given = (name: string, value: number | undefined): RawValues =>
  value === undefined || Number.isNaN(value) ? {} : { [name]: text(value) };

/** The lifts for the cycle holes that a line belongs to: holes, or tapping. `spoke`: whether a rule spoke in some lines. */
export const holeLifts = (source: LiftSource, line: number, spoke: Spoke): Lift[] => {
  const stretch = cycleStretchAt(source, line);
  if (stretch === undefined) return [];
  const modes = source.modesBehind(stretch.callLine);
  const tap = modes === undefined ? undefined : tapUnder(source.facts, modes);
  if (tap !== undefined) return tappingLifts(work(stretch), tap, spoke);
  const tool = source.toolAt(stretch.callLine);
  if (stretch.places.length < 2 || tool === undefined) return [];
  const operation = operationOf(stretch, tool);
  if (operation === undefined) return [];
  const { values, words } = patternFor(stretch.places);
  return [
    {
      title: `Turn into a block: ${words}`,
      name: 'holes',
      values: {
        ...operation.values,
        ...values,
        ...given('speed', stretch.speed),
        ...given('feed', stretch.feed),
        ...(stretch.staysNear ? { between: 'clearance' } : {}),
        ...levelsOf(stretch),
      },
      replaces: stretch.lines,
      isWhole: operation.isWhole && !Number.isNaN(stretch.speed + stretch.feed),
      cycle: `G${stretch.cycle / 10}`,
      isSameWork: isSameHoles,
    },
  ];
};

/** The holes of a cycle as a tap's work. A drilling cycle comes nearer than a tap may: then the holder decides. */
const work = ({ lines, places, bottom, top, near, safe, speed, cycle }: CycleStretch): TappingWork => ({
  lines,
  places,
  bottom,
  top,
  near: cycle === 840 || cycle === 740 ? near : undefined,
  safe,
  speed,
});

const levelsOf = ({ top, near, safe }: CycleStretch): RawValues => ({
  top: text(top),
  clearance: text(near - top),
  retract: text(safe - top),
});

/** The operation that a cycle is with a tool; undefined where the block has none like it. */
const operationOf = (stretch: CycleStretch, tool: ToolShape): Operation | undefined => {
  const depth = stretch.top - stretch.bottom;
  if (!(depth > 0)) return undefined;
  if (stretch.cycle === 810 || PECKING.includes(stretch.cycle)) return drilling(stretch, tool, depth);
  if (stretch.cycle === 850 && tool.kind === 'reamer') return finishing('ream', tool, depth, {});
  const cycle = BORING[stretch.cycle];
  const mayBore = tool.kind === 'boring-bar' || tool.kind === undefined;
  return cycle !== undefined && mayBore ? finishing('bore', tool, depth, { 'bore.cycle': cycle }) : undefined;
};

const drilling = (
  { cycle, peck }: CycleStretch,
  { kind, diameter, pointAngle }: ToolShape,
  depth: number,
): Operation | undefined => {
  if (kind === 'spot-drill' || kind === 'centre-drill' || kind === 'countersink') {
    if (cycle !== 810 || pointAngle === undefined) return undefined;
    const wide = 2 * depth * Math.tan((pointAngle * Math.PI) / 360);
    const values = { operations: 'spot', 'spot.diameter': text(wide), 'spot.angle': text(pointAngle) };
    return { values, isWhole: true };
  }
  if (kind !== 'drill' && kind !== undefined) return undefined;
  const angle = pointAngle ?? USUAL_POINT;
  const full = diameter === undefined ? Number.NaN : depth - drillPointLength(diameter, angle);
  if (full <= 0) return undefined;
  return {
    values: {
      operations: 'drill',
      ...given('drill.diameter', diameter),
      ...given('drill.depth', full),
      ...(angle === USUAL_POINT ? {} : { 'drill.angle': text(angle) }),
      'drill.peck': PECKING.includes(cycle) && peck > 0 ? text(peck) : '0',
    },
    isWhole: diameter !== undefined,
  };
};

const finishing = (operation: 'ream' | 'bore', { diameter }: ToolShape, depth: number, more: RawValues): Operation => ({
  values: {
    operations: operation,
    ...given(`${operation}.diameter`, diameter),
    [`${operation}.depth`]: text(depth),
    ...more,
  },
  isWhole: diameter !== undefined,
});

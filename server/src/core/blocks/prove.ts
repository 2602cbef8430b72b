/** Executes a block before it is offered: no error, modes put back, cutter inside its limits, at its safe level in the end. */
import { Analysis } from '../checks/analysis.ts';
import { Mode } from '../machine/modes.ts';
import { EXTRA_WIDTH, MoveFlag, MoveKind } from '../machine/moves.ts';
import { formatLength } from './blockWriter.ts';
import type { BlockContext } from './context.ts';
import type { Problem } from './parameter.ts';
import type { BlockPlan, CentreLimit, ContourLimit } from './plan.ts';

/**
 * What the path may lie off by, mm: ends and centres of arcs are written to 0.001 mm, or to 0.0001 in, and both are half a
 * last digit off in X and in Y at most.
 */
const TOLERANCE = 0.003;
const INCH_TOLERANCE = 0.005;

/** What is wrong with a block as it runs; empty where nothing is. `isPart`: it is a part of a program, and not run alone. */
export const prove = (lines: readonly string[], plan: BlockPlan, isPart: boolean): Problem[] => {
  const { context } = plan;
  const long = lines.find((line) => line.length > context.configuration.profile.lineLength);
  if (long !== undefined) {
    return [
      {
        parameter: undefined,
        message: `The block has a line of ${long.length} characters, and this control takes ${context.configuration.profile.lineLength}: "${long.slice(0, 40)}…".`,
      },
    ];
  }
  // A part of a program (its start, its end, a subprogram) is no program by itself: its own tests execute it in one.
  if (isPart) return [];
  const head = entryLines(context);
  const behind = plan.behind.length > 0 ? ['M30', ...plan.behind] : [];
  const analysis = new Analysis([...head, ...lines, ...behind, ''].join('\n'), context.configuration);
  analysis.run();
  const first = head.length;
  const last = first + lines.length - 1;
  const error = analysis
    .findings()
    .findings.find(({ severity, line }) => severity === 'error' && line >= first && line <= last + behind.length);
  if (error !== undefined) {
    return [
      {
        parameter: undefined,
        message: `The block would not pass the checks: "${[...lines, ...behind][error.line - first]}" — ${error.message}`,
      },
    ];
  }
  return [...modesOf(analysis, first, last, plan), ...pathOf(analysis, first, last + behind.length, plan)];
};

/** Blocks that bring a fresh machine into the state that the block begins in. */
export const entryLines = ({ entry, configuration }: BlockContext): string[] => {
  const scale = entry.units === 'inch' ? 25.4 : 1;
  const height = entry.height ?? 100;
  const code = configuration.profile.withoutCodes.includes(911) ? '' : entry.arcDistance === 90 ? ' G90.1' : '';
  const lines = [
    `${entry.units === 'inch' ? 'G20' : 'G21'} G90 G17 G94 G98 G40 G80${code}`,
    `G54`,
    `G0 X0. Y0. Z${formatLength(height / scale, entry.units === 'inch')}`,
  ];
  if (entry.speed !== undefined)
    lines.push(
      `S${Math.round(entry.speed)} ${entry.spindle >= 3 && entry.spindle <= 5 ? `M${entry.spindle}` : ''}`.trim(),
    );
  if (((entry.coolant ?? 0) & 1) > 0) lines.push('M7');
  if (((entry.coolant ?? 0) & 2) > 0) lines.push('M8');
  lines.push(`G${entry.plane} G${entry.distance} G${entry.feedMode} G${entry.retract}`);
  if (entry.pathControl !== undefined && entry.pathControl !== 640) lines.push(`G${entry.pathControl / 10}`);
  if (entry.isOverrideLocked === true) lines.push('M49');
  if (entry.feed !== undefined) lines.push(`F${formatLength(entry.feed / scale, false)}`);
  if (entry.motion === 10 && entry.feed !== undefined) lines.push(entry.distance === 90 ? `G1 X0. Y0.` : 'G1 X0.');
  return lines;
};

const PUT_BACK: readonly (readonly [keyof typeof Mode, string])[] = [
  ['plane', 'the plane'],
  ['distance', 'G90 or G91'],
  ['arcDistance', 'G90.1 or G91.1'],
  ['feedMode', 'the feed mode'],
  ['units', 'the unit'],
  ['retract', 'G98 or G99'],
  ['pathControl', 'G61 or G64'],
  ['offset', 'the work offset'],
  ['coolant', 'the coolant'],
  ['radiusCompensation', 'radius compensation'],
];

const modesOf = (analysis: Analysis, first: number, last: number, plan: BlockPlan): Problem[] => {
  const before = analysis.stateBefore(first);
  const after = analysis.stateAfter(last);
  const problems: Problem[] = [];
  for (const [mode, words] of PUT_BACK) {
    if (before.modes[Mode[mode]] === after.modes[Mode[mode]]) continue;
    problems.push({
      parameter: undefined,
      message: `The block leaves ${words} changed behind it; it is not offered. Please report this.`,
    });
  }
  if (after.modes[Mode.cycle] > 0)
    problems.push({
      parameter: undefined,
      message: 'The block leaves a cycle on; it is not offered. Please report this.',
    });
  const end = plan.endHeight;
  if (end !== undefined && !(Math.abs(after.position[2] - end) < TOLERANCE)) {
    problems.push({
      parameter: undefined,
      message: `The block ends at Z${formatLength(after.position[2], false)} and not at its safe level Z${formatLength(end, false)}; it is not offered. Please report this.`,
    });
  }
  return problems;
};

/** The executed path against the plan's limits: deepest point, centre inside or outside its circles. */
const pathOf = (analysis: Analysis, first: number, last: number, { limits, lowest, inch }: BlockPlan): Problem[] => {
  let deepest = Number.POSITIVE_INFINITY;
  let worst: number | undefined;
  const tolerance = inch ? INCH_TOLERANCE : TOLERANCE;
  for (const { segment, firstLine } of analysis.passages()) {
    const { moves } = segment;
    let extra = 0;
    let from = [segment.entry.position[0], segment.entry.position[1], segment.entry.position[2]];
    for (let i = 0; i < moves.count; i++) {
      const to = [moves.ends[i * 3], moves.ends[i * 3 + 1], moves.ends[i * 3 + 2]];
      const kind = moves.kinds[i] & MoveFlag.kindMask;
      const hasExtra = extra < moves.extraCount && moves.extraMoves[extra] === i;
      const arc =
        hasExtra && kind === MoveKind.arc
          ? moves.extras.subarray(extra * EXTRA_WIDTH, (extra + 1) * EXTRA_WIDTH)
          : undefined;
      if (hasExtra) extra++;
      const line = firstLine + moves.lines[i];
      if (line >= first && line <= last && kind !== MoveKind.renamed) {
        if (!Number.isNaN(to[2])) deepest = Math.min(deepest, to[2]);
        const off = offLimits(limits, from, to, arc);
        if (off > (worst ?? tolerance)) worst = off;
      }
      from = to;
    }
  }
  const problems: Problem[] = [];
  if (lowest !== undefined && deepest < lowest - TOLERANCE) {
    problems.push({
      parameter: undefined,
      message: `The block reaches Z${formatLength(deepest, false)}, below its depth Z${formatLength(lowest, false)}; it is not offered. Please report this.`,
    });
  }
  if (worst !== undefined) {
    problems.push({
      parameter: undefined,
      message: `The cutter would leave its limit by ${formatLength(worst, false)} mm; it is not offered. Please report this.`,
    });
  }
  return problems;
};

/** How far a move lies off the limits, mm: it must be outside of all that say so, and inside of one of the others. */
const offLimits = (
  limits: BlockPlan['limits'],
  from: readonly number[],
  to: readonly number[],
  arc: Float64Array | undefined,
): number => {
  let off = 0;
  let inside = Number.POSITIVE_INFINITY;
  for (const limit of limits) {
    if (limit.side === 'outside') off = Math.max(off, offLimit(limit, from, to, arc));
    else if (inside > 0) inside = Math.min(inside, offLimit(limit, from, to, arc));
  }
  return inside === Number.POSITIVE_INFINITY ? off : Math.max(off, inside);
};

/** How far a move lies off a limit, mm; 0 where it keeps to it or is above its level. */
const offLimit = (
  limit: CentreLimit | ContourLimit,
  from: readonly number[],
  to: readonly number[],
  arc: Float64Array | undefined,
): number => {
  if (!(Math.min(from[2], to[2]) < limit.below - TOLERANCE)) return 0;
  // Straight up: out of where the cutter stood before the block, or where another move led it and is judged.
  if (from[0] === to[0] && from[1] === to[1] && to[2] > from[2]) return 0;
  let off = 0;
  for (const point of pointsOn(from, to, arc)) {
    const beyond = distanceBeyond(limit, point);
    off = Math.max(off, limit.side === 'inside' ? beyond : -beyond);
  }
  return off;
};

/** How far a point lies outside of the limit's outline, mm; negative inside. */
const distanceBeyond = (limit: CentreLimit | ContourLimit, [px, py]: readonly [number, number]): number => {
  const [x, y] = [px - limit.centre[0], py - limit.centre[1]];
  if ('radius' in limit) return Math.hypot(x, y) - limit.radius;
  const turn = (limit.angle * Math.PI) / 180;
  const along = Math.abs(x * Math.cos(turn) + y * Math.sin(turn)) - limit.halfLength + limit.corner;
  const across = Math.abs(y * Math.cos(turn) - x * Math.sin(turn)) - limit.halfWidth + limit.corner;
  return Math.hypot(Math.max(along, 0), Math.max(across, 0)) + Math.min(Math.max(along, across), 0) - limit.corner;
};

/** Points along a move: the ends of a line (and its middle), 16 places a turn of an arc. */
const pointsOn = (
  from: readonly number[],
  to: readonly number[],
  arc: Float64Array | undefined,
): [number, number][] => {
  if (arc === undefined) {
    return [0, 0.25, 0.5, 0.75, 1].map((share): [number, number] => [
      from[0] + (to[0] - from[0]) * share,
      from[1] + (to[1] - from[1]) * share,
    ]);
  }
  const [cx, cy, , , sweep] = arc;
  const radius = Math.hypot(from[0] - cx, from[1] - cy);
  const start = Math.atan2(from[1] - cy, from[0] - cx);
  const count = Math.max(4, Math.ceil((Math.min(Math.abs(sweep), 2 * Math.PI) / (2 * Math.PI)) * 16));
  return Array.from({ length: count + 1 }, (_, i): [number, number] => {
    const angle = start + (Math.min(Math.abs(sweep), 2 * Math.PI) * Math.sign(sweep) * i) / count;
    return [cx + radius * Math.cos(angle), cy + radius * Math.sin(angle)];
  });
};

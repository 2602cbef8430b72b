/** Tapping behind holes that are drilled to the size for a tap, and that nothing taps. Lengths mm. */
import { contextAt } from '../blocks/context.ts';
import { generateBlock } from '../blocks/generate.ts';
import type { Place, RawValues } from '../blocks/parameter.ts';
import { short } from '../blocks/readValues.ts';
import { tapping } from '../blocks/tapping.ts';
import { FactKind } from '../checks/facts.ts';
import { drilledHoles } from '../checks/support/drilledHoles.ts';
import { stockShape } from '../checks/support/stockShape.ts';
import { threadWork } from '../checks/support/threadWork.ts';
import type { ToolShape } from '../checks/support/toolShape.ts';
import type { ToolRow } from '../machine/configuration.ts';
import { Mode } from '../machine/modes.ts';
import { isoTapDrills } from '../reference/isoTapDrills.ts';
import { tapDrillOf } from '../reference/tapDrills.ts';
import { drillPointLength } from '../reference/threadMeasures.ts';
import { parseThread, type Thread } from '../reference/threadName.ts';
import { type BlockAction, hasNewErrors, isSameRest, type LiftSource, withLines } from './liftCode.ts';
import { type CycleStretch, cycleStretchAt } from './liftCodeCycles.ts';
import { placesText } from './liftCodePatterns.ts';
import { tracedMoves } from './trace.ts';

/** How near a drill is to the usual one for a thread, mm. */
const NEAR = 0.06;
const SAME_HOLE = 0.05;
const USUAL_POINT = 118;
const DRILLING = [730, 810, 830];
/** Threads of a tap's lead where it is not known, and of free depth below its tip in a blind hole (common practice, no source). */
const USUAL_LEAD = 3;
const FREE_BELOW = 1.5;

/** A thread that a hole is right for, and the tap of the tool table that cuts it. */
interface Candidate {
  readonly thread: Thread;
  readonly row: ToolRow | undefined;
}

/** The actions that tap the drilled holes a line belongs to, behind the drill's work. */
export const tapAfterActions = (source: LiftSource, line: number, hasForm: boolean): BlockAction[] => {
  const tool = source.toolAt(line);
  if (tool?.kind !== 'drill' || tool.diameter === undefined) return [];
  const stretch = cycleStretchAt(source, line);
  if (
    stretch === undefined ||
    !source.runsOnce(stretch.lines) ||
    !DRILLING.includes(stretch.cycle) ||
    isWorkedOn(source, stretch, tool)
  )
    return [];
  const place = placeBehind(source, stretch);
  if (place === undefined) return [];
  return candidatesFor(source, tool.diameter).flatMap((candidate) => {
    const values = valuesFor(source, stretch, tool, candidate);
    if (values === undefined) return [];
    const title = `Tap ${stretch.places.length === 1 ? 'this hole' : 'these holes'} ${candidate.thread.name} behind the drill`;
    const form: BlockAction = { title: `${title}…`, form: { name: 'tapping', values, line: place } };
    const { row } = candidate;
    const isHolderKnown = (row?.holder ?? source.configuration.holder) !== undefined;
    const made = generateBlock(tapping, values, contextAt(source.analysis, place, source.configuration));
    // The form asks for what is missing: the tool, its holder, its speed.
    if (row === undefined || !isHolderKnown || made.lines === undefined) return hasForm ? [form] : [];
    if (!worksAt(source, place, made.lines)) return [];
    return [hasForm ? form : { title, edit: { lines: made.lines, line: place } }];
  });
};

/** Taps of the tool table for a drilled diameter; without any, the coarse thread that it is the usual drill for. */
const candidatesFor = ({ configuration }: LiftSource, diameter: number): Candidate[] => {
  const fromTable = configuration.tools.flatMap((row): Candidate[] => {
    const thread = row.kind === 'tap' && row.thread !== undefined ? parseThread(row.thread) : undefined;
    const drill = thread === undefined ? undefined : tapDrillOf(thread, row.forming ?? false);
    return thread !== undefined && drill !== undefined && Math.abs(drill.diameter - diameter) < NEAR
      ? [{ thread, row }]
      : [];
  });
  if (fromTable.length > 0) return fromTable;
  const coarse = [...isoTapDrills].find(([, drill]) => Math.abs(drill - diameter) < 0.01);
  const thread = coarse === undefined ? undefined : parseThread(`M${coarse[0]}`);
  return thread === undefined ? [] : [{ thread, row: undefined }];
};

/** True where a tap comes to one of the holes, or something widens it. */
const isWorkedOn = (source: LiftSource, { places, lines }: CycleStretch, drill: ToolShape): boolean => {
  const isHere = (x: number, y: number): boolean =>
    places.some((place) => Math.hypot(place[0] - x, place[1] - y) < SAME_HOLE);
  if (threadWork(source.facts).strokes.some(({ place }) => isHere(place.x, place.y))) return true;
  return drilledHoles(source.passages, source.facts).some(
    ({ passage, line, x, y, tool }) =>
      source.passages[passage].firstLine + line > lines.lastLine &&
      isHere(x, y) &&
      !(tool.kind === 'countersink' || tool.kind === 'spot-drill' || tool === drill),
  );
};

/** The first line behind all that the drill does, where no cycle is active; undefined where there is none before the next tool. */
const placeBehind = (source: LiftSource, { lines }: CycleStretch): number | undefined => {
  const { analysis, facts } = source;
  const ends = [...facts.of(FactKind.toolChange), ...facts.of(FactKind.programEnd)];
  const next = Math.min(analysis.lineCount, ...ends.map(({ line }) => line).filter((line) => line > lines.lastLine));
  const work = source.movesOf({ firstLine: lines.lastLine, lastLine: next - 1 }).filter(({ kind }) => kind !== 'rapid');
  let place = Math.max(lines.lastLine, ...work.map(({ line }) => line)) + 1;
  while (place < next && source.mode(place - 1, Mode.cycle) > 0) place++;
  return place <= next && source.mode(place - 1, Mode.cycle) === 0 ? place : undefined;
};

const text = (value: number): string => short(value, 4);

/** Values of the tapping block; undefined where the holes are too shallow for a thread. */
const valuesFor = (
  { configuration }: LiftSource,
  stretch: CycleStretch,
  { diameter = 0, pointAngle }: ToolShape,
  { thread, row }: Candidate,
): RawValues | undefined => {
  const full = stretch.bottom + drillPointLength(diameter, pointAngle ?? USUAL_POINT);
  const shape = stockShape(configuration);
  const below = shape?.holds(...first(stretch.places), 0) ? shape.bottom : Number.NEGATIVE_INFINITY;
  const isThrough = full <= below;
  const lead = row?.leadTurns ?? USUAL_LEAD;
  const most = stretch.top - full - (lead + FREE_BELOW) * thread.pitch;
  const depth = isThrough ? stretch.top - below : Math.floor(most * 2 + 1e-6) / 2;
  if (depth < thread.pitch) return undefined;
  return {
    thread: thread.name,
    depth: text(depth),
    ...(isThrough ? { hole: 'through' } : {}),
    ...(row === undefined ? {} : { 'tool-number': String(row.number) }),
    at: placesText(stretch.places),
    top: text(stretch.top),
    retract: text(stretch.safe - stretch.top),
  };
};

const first = ([place]: readonly Place[]): [number, number] => [place[0], place[1]];

/** True where the block's lines work: no error that was not there, and what follows as it was, but for the tool in the spindle. */
const worksAt = (source: LiftSource, place: number, lines: readonly string[]): boolean => {
  const { analysis } = source;
  const after = withLines(source, { firstLine: place, lastLine: place - 1 }, lines);
  if (hasNewErrors(analysis, after)) return false;
  const rest = (of: typeof analysis, firstLine: number) => [...tracedMoves(of, { firstLine })];
  return isSameRest(rest(analysis, place), rest(after, place + lines.length));
};

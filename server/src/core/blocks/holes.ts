/** Holes in a pattern, and operations chained over the same places: spot, drill, countersink, counterbore, bore, ream, tap. */
import type { BlockKind } from './blockKind.ts';
import type { BlockWriter } from './blockWriter.ts';
import { levelsOf } from './commonParameters.ts';
import { checkToolNumbers, drilledHole, finishingNeeds, operationsOf } from './holeChain.ts';
import { planDrilling } from './holeDrilling.ts';
import { planBoring, planReaming } from './holeFinishing.ts';
import { planCounterbore, planCountersink, planSpot } from './holeMouths.ts';
import { HOLE_PARAMETERS, type OperationName, USUAL_CLEARANCE } from './holeParameters.ts';
import { holePlaces, warnOfOverlap } from './holePlaces.ts';
import { placesCall, placesLines, placesProgram } from './holeSubprogram.ts';
import { goesThrough, type PlannedTap, planTap, tapWork } from './holeTapping.ts';
import { checkTool } from './holeTools.ts';
import { type HoleJob, type HoleWork, mergePart } from './holeWork.ts';
import type { Place } from './parameter.ts';
import { BlockPlan, type WriteBody } from './plan.ts';
import type { Values } from './values.ts';

export const holes: BlockKind = {
  name: 'holes',
  title: 'Holes',
  summary:
    'Spots, drills, countersinks, counterbores, bores, reams and taps holes in a list, row, grid, circle or frame.',
  prefix: 'holes',
  parameters: HOLE_PARAMETERS,
  isPartWith: ({ form }) => form?.trim().toLowerCase() === 'places',
  plan: planHoles,
};

function planHoles(values: Values, plan: BlockPlan): WriteBody | undefined {
  const operations = operationsOf(values, plan);
  const places = holePlaces(values, plan);
  if (operations === undefined) return undefined;
  const program = places && placesProgram(values, plan, places, operations);
  if (values.text('form') === 'places') {
    if (places === undefined || program === undefined) return undefined;
    return (writer) => {
      writer.lines.push(...placesLines(plan, program, places));
    };
  }
  checkToolNumbers(values, plan, operations);
  plan.caution(cautionFor(values, operations));
  const works = planOperations(values, plan, operations);
  if (works === undefined || places === undefined) return undefined;
  warnOfOverlap(values, places, Math.max(...works.map(({ width }) => width)), plan);
  if (places.length > 1 || works.length > 1) {
    const seconds = places.length * works.reduce((sum, work) => sum + work.seconds, 0);
    plan.fact('time', 'Time at feed, all holes', timeText(seconds));
  }
  limit(plan, works, places);
  if (program !== undefined) {
    plan.behind.push(...placesLines(plan, program, places));
    plan.word(
      'form',
      `The subprogram O${program} must stand behind the program’s end. Write it there by the same values with form=places.`,
    );
  }
  return (writer) => {
    if (program !== undefined) writer.placesCall = placesCall(plan, program);
    works.forEach((work, index) => {
      writeWork(writer, work, works[index - 1], places);
    });
  };
}

/** Plans every operation, each into a plan of its own, so that its facts carry its name. Undefined where one cannot be written. */
const planOperations = (
  values: Values,
  plan: BlockPlan,
  operations: readonly OperationName[],
): readonly HoleWork[] | undefined => {
  const levels = levelsOf(values, USUAL_CLEARANCE);
  const isThrough = goesThrough(values);
  // The drill goes by the tap, so the tap comes first here; its facts stand in their place.
  const tapPart = new BlockPlan(plan.context);
  const tap = operations.includes('tap') ? planTap(values, tapPart, levels, operations) : undefined;
  const needs = [...finishingNeeds(values, operations, isThrough), ...(tap === undefined ? [] : [tap.need])];
  const isDrilled = operations.includes('drill');
  const drilled = isDrilled ? drilledHole(values, plan, needs, isThrough) : undefined;
  if (isDrilled && drilled === undefined) {
    mergePart(plan, tapPart, 'tap');
    return undefined;
  }
  const between = values.text('between') === 'clearance' ? 'G99' : 'G98';
  const job: HoleJob = { values, levels, operations, between, drilled, thread: tap?.thread.diameter };
  const works = operations.map((operation) => {
    const part = operation === 'tap' ? tapPart : new BlockPlan(plan.context);
    const work = planOperation(job, part, operation, tap);
    if (work !== undefined) checkTool(job, part, work);
    mergePart(plan, part, operation);
    return work;
  });
  const whole = works.filter((work) => work !== undefined);
  return whole.length === works.length ? whole : undefined;
};

const planOperation = (
  job: HoleJob,
  plan: BlockPlan,
  operation: OperationName,
  tap: PlannedTap | undefined,
): HoleWork | undefined => {
  const { drilled, operations, values, levels } = job;
  switch (operation) {
    case 'spot':
      return planSpot(job, plan);
    case 'drill':
      return drilled && planDrilling(job, plan, drilled);
    case 'countersink':
      return planCountersink(job, plan);
    case 'counterbore':
      return planCounterbore(job, plan);
    case 'ream':
      return planReaming(job, plan);
    case 'bore':
      return planBoring(job, plan);
    case 'tap': {
      const bored = operations.includes('bore') ? values.optionalNumber('bore.diameter') : undefined;
      return tap && tapWork(tap, plan, levels, { drilled, diameter: bored ?? drilled?.diameter });
    }
  }
};

/** Beyond this the path is not held against every hole: the time would grow with the square. */
const MOST_LIMITS = 200;

/** What the executed path is held against: the lowest level, the level in the end, and the holes below the levels it crosses at. */
const limit = (plan: BlockPlan, works: readonly HoleWork[], places: readonly Place[]): void => {
  plan.lowest = Math.min(...works.map(({ bottom }) => bottom));
  plan.endHeight = works[works.length - 1].safe;
  if (places.length > MOST_LIMITS) return;
  const radius = Math.max(...works.map(({ aside = 0 }) => aside));
  const below = Math.min(...works.map(({ across }) => across));
  for (const centre of places) plan.limits.push({ centre, radius, side: 'inside', below });
};

const writeWork = (
  writer: BlockWriter,
  work: HoleWork,
  before: HoleWork | undefined,
  places: readonly Place[],
): void => {
  const { toolNumber, description, speed, hand = 'right', startsSpindle = false, safe } = work;
  const isSameTool = before !== undefined && before.toolNumber === toolNumber;
  if (toolNumber === undefined || isSameTool) writer.remark(description);
  writer.section({
    toolNumber: isSameTool ? undefined : toolNumber,
    description,
    speed,
    hand,
    startsSpindle,
    at: places[0],
    retract: safe,
  });
  work.write(writer, places);
};

/** The first line at the head of the block. */
const cautionFor = (values: Values, operations: readonly OperationName[]): string =>
  goesThrough(values) && operations.some((operation) => operation !== 'spot')
    ? 'PROVE IN THE AIR FIRST. HOLES GO THROUGH: CHECK BELOW'
    : 'PROVE IN THE AIR FIRST: TOOLS, LENGTHS, ZERO, CLAMPS';

const timeText = (seconds: number): string =>
  seconds < 100 ? `${seconds.toFixed(1)} s` : `${Math.floor(seconds / 60)} min ${Math.round(seconds % 60)} s`;

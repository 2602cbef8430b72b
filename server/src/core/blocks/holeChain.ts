/** The operations over a pattern of holes: their order, their tools, and the hole that the drill makes for what follows. */
import { drillPointLength } from '../reference/threadMeasures.ts';
import type { OperationName } from './holeParameters.ts';
import { operationLabel } from './holeParameters.ts';
import type { DrilledHole } from './holeWork.ts';
import type { BlockPlan } from './plan.ts';
import type { Values } from './values.ts';

/** Where an operation comes in the chain; those of one rank come in any order. */
const RANKS: Readonly<Record<OperationName, number>> = {
  spot: 0,
  drill: 1,
  countersink: 2,
  counterbore: 2,
  bore: 2,
  ream: 3,
  tap: 3,
};

/** Countersinking and counterboring are done before or after the hole is finished. */
const ANY_TIME: readonly OperationName[] = ['countersink', 'counterbore'];

/** The operations as given; undefined with a problem where one comes twice or before what it needs. */
export const operationsOf = (values: Values, plan: BlockPlan): readonly OperationName[] | undefined => {
  const operations = values.words('operations') as readonly OperationName[];
  const twice = operations.find((operation, index) => operations.indexOf(operation) !== index);
  if (twice !== undefined) {
    plan.problem(
      'operations',
      `${operationLabel(twice)} is named twice. Name each operation once, and make a block of its own for a second tool of the kind.`,
    );
    return undefined;
  }
  const isBefore = (late: OperationName, early: OperationName): boolean =>
    RANKS[late] > RANKS[early] && operations.indexOf(late) < operations.indexOf(early) && !ANY_TIME.includes(early);
  for (const late of operations) {
    const early = operations.find((other) => isBefore(late, other));
    if (early === undefined) continue;
    const sorted = [...operations].sort((a, b) => RANKS[a] - RANKS[b]);
    plan.problem('operations', `${operationLabel(late)} comes before ${early}. Write ${sorted.join(',')}.`);
    return undefined;
  }
  if (operations.includes('ream') && operations.includes('tap')) {
    plan.problem('operations', 'A reamed hole is not tapped. Take ream or tap out.');
    return undefined;
  }
  return operations;
};

/** Operations that one tool can do: a spot drill of the right angle countersinks as well. */
const SHARE_A_TOOL: readonly OperationName[] = ['spot', 'countersink'];

/** The tool number of each operation; problems where one is missing or one tool would do two different things. */
export const checkToolNumbers = (values: Values, plan: BlockPlan, operations: readonly OperationName[]): void => {
  const numbers = operations.map(
    (operation, index) =>
      values.optionalNumber(`${operation}.tool-number`) ??
      // The first one works with the tool that is in the spindle where it calls none.
      (index === 0 ? (values.optionalNumber('tool-number') ?? plan.context.tool?.number) : undefined),
  );
  operations.forEach((operation, index) => {
    if (index > 0 && numbers[index] === undefined) {
      plan.problem(
        `${operation}.tool-number`,
        `${operationLabel(operation)} needs a tool number: only ${operations[0]}, which comes first, can do with the cutter in the spindle. Give its tool number.`,
      );
    }
    const other = numbers.findIndex(
      (number, before) => before < index && number !== undefined && number === numbers[index],
    );
    if (other < 0 || (SHARE_A_TOOL.includes(operation) && SHARE_A_TOOL.includes(operations[other]))) return;
    plan.problem(
      `${operation}.tool-number`,
      `Tool ${numbers[index]} is both for ${operations[other]} and for ${operation}. Give each its own number.`,
    );
  });
};

/** What an operation behind the drill asks of the hole: its drill, and how deep it is at full diameter in a blind hole. */
export interface HoleNeed {
  readonly operation: OperationName;
  readonly diameter: number | undefined;
  readonly depth: number | undefined;
}

/** What a reamer or a bar stays above the end of the full diameter in a blind hole (common practice, no source). */
const ABOVE_THE_POINT = 1;

/** What a reamer takes out on the diameter, by its own diameter (common practice, no source). */
const reamerStock = (diameter: number): number => (diameter <= 5 ? 0.1 : diameter <= 20 ? 0.2 : 0.3);

/** What reamer and bar ask of the drill. */
export const finishingNeeds = (values: Values, operations: readonly OperationName[], isThrough: boolean): HoleNeed[] =>
  operations.flatMap((operation): HoleNeed[] => {
    if (operation !== 'ream' && operation !== 'bore') return [];
    const depth = values.optionalNumber(`${operation}.depth`);
    const own = values.optionalNumber(`${operation}.diameter`);
    const isFirst = operation === 'bore' || !operations.includes('bore');
    const diameter = operation === 'ream' && own !== undefined && isFirst ? own - reamerStock(own) : undefined;
    return [
      { operation, diameter, depth: depth === undefined ? undefined : depth + (isThrough ? 0 : ABOVE_THE_POINT) },
    ];
  });

/** How deep a reamer or bar goes where nobody says it: through with the drill, or short of the end of its full diameter. */
export const finishingDepth = ({ isThrough, tip, depth }: DrilledHole): number =>
  isThrough ? tip : depth - ABOVE_THE_POINT;

/** How far the full diameter of a drill goes beyond a through hole: a tenth of it, 0.5 to 1 mm (common practice, no source). */
const usualBreakout = (diameter: number): number => Math.min(1, Math.max(0.5, diameter / 10));

/** The hole that the drill makes: as given, else as what follows needs it. Undefined with problems where nothing tells. */
export const drilledHole = (
  values: Values,
  plan: BlockPlan,
  needs: readonly HoleNeed[],
  isThrough: boolean,
): DrilledHole | undefined => {
  const own = values.within('drill');
  const diameter = own.optionalNumber('diameter') ?? needs.find((need) => need.diameter !== undefined)?.diameter;
  const depths = needs.flatMap(({ depth }) => (depth === undefined ? [] : [depth]));
  const depth = own.optionalNumber('depth') ?? (depths.length > 0 ? Math.max(...depths) : undefined);
  if (diameter === undefined)
    plan.problem('drill.diameter', 'The drill’s diameter is missing. Give it, or ream or tap behind it.');
  if (depth === undefined) {
    plan.problem(
      'drill.depth',
      `The drilled depth is missing. Give ${isThrough ? 'the thickness of the part' : 'how deep the hole has its full diameter'}.`,
    );
  }
  if (diameter === undefined || depth === undefined) return undefined;
  const pointAngle = own.number('angle');
  const point = drillPointLength(diameter, pointAngle);
  const breakout = isThrough ? (own.optionalNumber('breakout') ?? usualBreakout(diameter)) : 0;
  return { diameter, depth, pointAngle, isThrough, point, tip: depth + point + breakout };
};

/** Rows of a faced surface: where they lie and which way they run. */
import type { Place } from './parameter.ts';
import type { BlockPlan } from './plan.ts';
import type { ShapeCutter } from './shapeCutter.ts';
import { evenSteps } from './stepping.ts';
import type { Values } from './values.ts';

/** Beyond the last edge the cutter reaches by this part of its diameter, 1 mm at most, so that no burr stands (common practice, no source). */
const BEYOND = 0.05;
const MOST_BEYOND = 1;

/** Rows along X about a centre at 0; mm. */
export interface FaceRows {
  /** Where a row begins and ends: its cutter is clear of the surface by the overrun. */
  readonly halfLength: number;
  /** Y of the rows in the order of cutting. */
  readonly places: readonly number[];
  /** All run to +X; else every second one runs back. */
  readonly isOneWay: boolean;
}

/** Computes the rows; problems, words and facts go to the plan. */
export const planRows = (values: Values, plan: BlockPlan, cutter: ShapeCutter): FaceRows | undefined => {
  const width = values.number('width');
  const reach = cutter.radius - cutter.cornerRadius;
  const asked = ((values.optionalNumber('stepover') ?? 70) / 100) * cutter.diameter;
  if (reach <= 1e-9) {
    plan.problem('corner-radius', 'A ball nose leaves no flat face. Take a cutter with a flat bottom.');
    return undefined;
  }
  const most = Math.min(asked, 2 * reach);
  if (asked > most + 1e-9) {
    plan.word(
      'stepover',
      `Rows of ${plan.say(asked)} would leave ridges between them, since the corners are round. ${plan.say(most)} is taken, the cutter’s flat.`,
    );
  }
  const beyond = Math.min(MOST_BEYOND, BEYOND * cutter.diameter);
  const { count, size } = evenSteps(width + beyond, most);
  plan.fact('rows', 'Rows a level', count);
  plan.fact('stepover', 'Width of a row', `${plan.say(size)} (${plan.say((size / cutter.diameter) * 100, '%')})`);
  // To +X climb milling takes the row on its right, at −Y: the first row is the uppermost. Conventional is its mirror.
  const direction = values.text('direction');
  const side = direction === 'conventional' ? -1 : 1;
  const places = Array.from({ length: count }, (_, i) => side * (width / 2 - size * (i + 1) + reach));
  const halfLength = values.number('length') / 2 + cutter.radius + values.number('overrun');
  return { halfLength, places, isOneWay: direction !== 'both' };
};

/** Where a row begins and ends. */
export const rowEnds = ({ halfLength, places, isOneWay }: FaceRows, row: number): { start: Place; end: Place } => {
  const way = !isOneWay && row % 2 === 1 ? -1 : 1;
  return { start: [-way * halfLength, places[row]], end: [way * halfLength, places[row]] };
};

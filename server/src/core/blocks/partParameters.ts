/** What the parts of a program (start, tool section, end, subprogram) share. The forms are common practice, no source. */
import { LENGTH_AXIS, offsetNumber, referenceOf } from '../machine/machinePosition.ts';
import type { BlockWriter } from './blockWriter.ts';
import { choice, number } from './commonParameters.ts';
import type { Parameter } from './parameter.ts';
import type { BlockPlan } from './plan.ts';
import type { Values } from './values.ts';

/** Largest program number that every control with program numbers takes. */
const LARGEST_PROGRAM = 9999;

/** Number of a program (O). */
export const programNumber = (help: string): Parameter =>
  number('program', 'Program number', '', help, { whole: true, least: 1, most: LARGEST_PROGRAM, group: 'Program' });

/** Words for a remark. */
export const title = (help: string): Parameter => ({
  kind: 'text',
  name: 'title',
  label: 'Title',
  help,
  group: 'Program',
});

/** Work offset by its name. */
export const offsetParameter = (help: string): Parameter => ({
  kind: 'text',
  name: 'offset',
  label: 'Work offset',
  help,
  group: 'Where',
});

/** The work offset as written, in capitals; undefined where none is given. Tells of one that is none. */
export const offsetOf = (values: Values, plan: BlockPlan): string | undefined => {
  const given = values.optionalText('offset')?.toUpperCase().replace(/\s+/g, ' ');
  if (given === undefined) return undefined;
  if (offsetNumber(given) > 0) return given.replace(/ ?P/, ' P');
  plan.problem('offset', `${given} is no work offset. Write G54 to G59, G59.1 to G59.3, or G54.1 P1.`);
  return undefined;
};

/** How the tool goes home. */
export const HOME = choice(
  'home',
  'Way home',
  'How Z goes up: to the reference point, or in machine coordinates to the reference height of the shop’s file.',
  [
    ['reference', 'Reference point (G91 G28 Z0)'],
    ['machine', 'Machine coordinates (G53)'],
  ],
);

/** A way home: whether Y follows Z. */
export interface WayHome {
  /** Machine height to go to by G53, mm; undefined: by G28. */
  readonly machineHeight: number | undefined;
  readonly alsoY: boolean;
}

/** The way home as asked for; a problem where the machine's height is not known. */
export const wayHome = (values: Values, plan: BlockPlan): WayHome => {
  const alsoY = values.isYes('table');
  if (values.text('home') === 'reference') return { machineHeight: undefined, alsoY };
  const height = referenceOf(plan.context.configuration, LENGTH_AXIS);
  if (Number.isNaN(height)) {
    plan.problem(
      'home',
      'Z of the reference point is not known, so G53 has no height to go to. Write machine.axes.Z.reference into blockwright.json, or set home to reference.',
    );
  }
  return { machineHeight: height, alsoY };
};

/** Z home first, alone, then Y where asked for; G90 is on behind it. */
export const writeHome = (writer: BlockWriter, { machineHeight, alsoY }: WayHome): void => {
  if (machineHeight !== undefined) writer.block('G90', 'G53', 'G0', ['Z', machineHeight]);
  if (machineHeight === undefined || alsoY) {
    if (machineHeight === undefined) writer.block('G91', 'G28', ['Z', 0]);
    if (alsoY) writer.block('G91', 'G28', ['Y', 0]);
    writer.block('G90');
  }
};

/** A problem where something in force at the cursor would carry on into the part. */
export const refuseObstacle = (plan: BlockPlan): void => {
  const { obstacle } = plan.context.entry;
  if (obstacle !== undefined)
    plan.problem(undefined, `This cannot stand here: ${obstacle}. End that first, or put the cursor elsewhere.`);
};

/** Capitals of plain letters for a remark: what no control takes is left out. */
export const remarkText = (text: string): string =>
  text
    .normalize('NFD')
    .toUpperCase()
    .replace(/\p{M}/gu, '')
    .replace(/[^\x20-\x7e]|[()%;]/g, ' ')
    .replace(/\s+/g, ' ')
    .trim();

/** Tapped threads at one or more places, with a synchronised holder, a float or a self-reversing head. */
import type { BlockKind } from './blockKind.ts';
import {
  CENTRE_PARAMETERS,
  COOLANT,
  centresOf,
  levelsOf,
  number,
  RETRACT,
  SPEED_PARAMETERS,
  TOP,
} from './commonParameters.ts';
import type { BlockContext } from './context.ts';
import type { RawValues } from './parameter.ts';
import { BlockPlan, type WriteBody } from './plan.ts';
import { short } from './readValues.ts';
import { DRILL_ANGLE, type ThreadHole } from './tapFacts.ts';
import { TAP_PARAMETERS } from './tapParameters.ts';
import { planTappingOperation, tappingClearance } from './tappingOperation.ts';
import type { Values } from './values.ts';

/** Without a default of its own: it goes by the holder. */
const TAP_CLEARANCE = number(
  'clearance',
  'Clearance',
  'mm',
  'Height above the top where feed begins. Left out: what the holder needs, 3 mm or more.',
  { above: 0, group: 'Levels' },
);

export const tapping: BlockKind = {
  name: 'tapping',
  title: 'Tapping',
  summary: 'Taps threads with a synchronised holder, an axial float or a self-reversing head.',
  prefix: 'tapping',
  parameters: [...TAP_PARAMETERS, ...SPEED_PARAMETERS, COOLANT, ...CENTRE_PARAMETERS, TOP, TAP_CLEARANCE, RETRACT],
  plan: planTapping,
};

function planTapping(values: Values, plan: BlockPlan): WriteBody | undefined {
  const levels = levelsOf(values, tappingClearance(values));
  const operation = planTappingOperation(values, plan, levels, '');
  if (operation === undefined) return undefined;
  const places = centresOf(values);
  plan.endHeight = operation.endHeight;
  plan.lowest = operation.lowest;
  const drilling = drillingOf(values, operation.hole);
  if (drilling !== undefined) {
    const [drill, depth] = [drilling['drill.diameter'], drilling['drill.depth']].map((text) => plan.say(Number(text)));
    plan.fact(
      'drilling',
      'Drilling before it',
      `the block holes drills the same places: ${drill}, ${depth} deep at full diameter`,
    );
  }
  plan.caution(...cautionsFor(values.text('holder')));
  const { speed, hand, startsSpindle, description } = operation;
  const toolNumber = values.optionalNumber('tool-number');
  return (writer) => {
    if (toolNumber === undefined) writer.remark(description);
    const retract = operation.endHeight;
    writer.section({ toolNumber, description, speed, hand, startsSpindle, at: places[0], retract });
    operation.write(writer, places);
  };
}

const cautionsFor = (holder: string): readonly string[] => {
  if (holder === 'synchronised') return ['SYNCHRONISED TAPPING: PROVE IN THE AIR FIRST'];
  if (holder === 'float') return ['FLOAT HOLDER: PROVE IN THE AIR FIRST, SPEED AND FEED AT 100 %'];
  return ['SELF-REVERSING HEAD: STOP ARM SET, SPEED AND FEED AT 100 %', 'PROVE IN THE AIR FIRST'];
};

/**
 * Values of the block `holes` (text, mm) that drill the holes of a tapping block at the same places: at full diameter as deep as
 * tap, holder and chips need it. Undefined where the values do not work, or where no table has the drill.
 */
export const drillingFor = (values: Values, context: BlockContext): RawValues | undefined => {
  const plan = new BlockPlan(context);
  const operation = planTappingOperation(values, plan, levelsOf(values, tappingClearance(values)), '');
  return plan.problems.length > 0 ? undefined : drillingOf(values, operation?.hole);
};

const drillingOf = (values: Values, hole: ThreadHole | undefined): RawValues | undefined => {
  if (hole === undefined) return undefined;
  const places = centresOf(values).map((place) => place.map((value) => short(value, 6)).join(','));
  const material = values.optionalText('material');
  return {
    pattern: 'list',
    at: places.join(';'),
    operations: 'drill',
    'drill.diameter': short(hole.drill),
    'drill.depth': short(hole.fullDepth),
    'drill.angle': String(DRILL_ANGLE),
    'drill.through': values.text('hole') === 'through' ? 'yes' : 'no',
    top: short(values.number('top'), 6),
    retract: short(values.number('retract'), 6),
    ...(material === undefined ? {} : { material }),
  };
};

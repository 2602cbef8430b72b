/** How fast a helix goes down: lead or ramp angle as given, made even over the depth, against the cutter's limit. Lengths mm, angles degrees. */
import { number } from './commonParameters.ts';
import type { Parameter } from './parameter.ts';
import type { BlockPlan } from './plan.ts';
import type { Values } from './values.ts';

const LEAST_LEAD = 0.003;

export const LEAD_PARAMETERS: readonly Parameter[] = [
  number(
    'lead',
    'Lead a turn',
    'mm',
    'How far the helix goes down a turn at most; it is made even over the depth. Left out: a tenth of the cutter, or less where that is steeper than 3°.',
    { least: LEAST_LEAD, group: 'How' },
  ),
  number(
    'ramp-angle',
    'Ramp angle',
    '°',
    'Instead of the lead: how steep the cutter’s centre goes down on the innermost pass.',
    { above: 0, most: 45, group: 'How' },
  ),
];
export const RAMP_LIMIT = number(
  'ramp-limit',
  'Steepest ramp',
  '°',
  'The steepest way down that the cutter stands, from its maker’s data. Left out: not held against it.',
  { above: 0, most: 90, group: 'Tool' },
);

/** A lead for which none was asked: this part of the cutter, and not steeper than this (common practice, no source). */
const USUAL_SHARE = 0.1;
const USUAL_ANGLE = 3;
/** From here on a word is due where no limit is known (common practice, no source). */
const STEEP = 5;

const tangent = (angle: number): number => Math.tan((angle * Math.PI) / 180);

/** An even helix. */
export interface EvenLead {
  readonly turns: number;
  readonly lead: number;
}

/** Fewest turns over a depth that need no more than `lead` a turn. */
export const evenLead = (depth: number, lead: number): EvenLead => {
  const turns = Math.max(1, Math.ceil(depth / lead - 1e-9));
  return { turns, lead: depth / turns };
};

/** Turns and lead over a depth on a path of `radius`, the smallest of the passes; undefined with a problem. Facts: turns, lead, ramp angle. */
export const leadOf = (
  values: Values,
  plan: BlockPlan,
  { depth, radius, tool }: { readonly depth: number; readonly radius: number; readonly tool: number },
): EvenLead | undefined => {
  const asked = askedLead(values, plan, radius, tool);
  if (asked === undefined) return undefined;
  const even = evenLead(depth, asked.lead);
  const angle = (Math.atan(even.lead / (2 * Math.PI * radius)) * 180) / Math.PI;
  plan.fact('turns', 'Turns', even.turns);
  plan.fact('lead', 'Lead a turn', even.lead, 'mm');
  plan.fact('ramp-angle', 'Ramp angle', angle, '°', 2);
  judgeAngle(values, plan, asked.parameter, angle, radius);
  return even;
};

const askedLead = (
  values: Values,
  plan: BlockPlan,
  radius: number,
  tool: number,
): { lead: number; parameter: string } | undefined => {
  const lead = values.optionalNumber('lead');
  const angle = values.optionalNumber('ramp-angle');
  const circle = 2 * Math.PI * radius;
  if (lead !== undefined && angle !== undefined) {
    plan.problem(
      'ramp-angle',
      'Lead and ramp angle are both given, and each decides the other. Leave one of them out.',
    );
    return undefined;
  }
  if (lead !== undefined) return { lead, parameter: 'lead' };
  const limit = values.optionalNumber('ramp-limit') ?? 90;
  const usual = Math.min(tool * USUAL_SHARE, circle * tangent(Math.min(USUAL_ANGLE, limit)));
  const wanted = angle === undefined ? usual : circle * tangent(angle);
  const parameter = angle === undefined ? 'lead' : 'ramp-angle';
  if (wanted >= LEAST_LEAD) return { lead: wanted, parameter };
  plan.problem(
    parameter,
    `The cutter’s centre goes round on ${plan.say(2 * radius)} only and would go down ${plan.say(wanted, 'mm', 5)} a turn; the least is ${plan.say(LEAST_LEAD)}. Give a lead, or take a smaller cutter.`,
  );
  return undefined;
};

const judgeAngle = (values: Values, plan: BlockPlan, parameter: string, angle: number, radius: number): void => {
  const limit = values.optionalNumber('ramp-limit');
  if (limit === undefined) {
    if (angle <= STEEP) return;
    plan.word(
      parameter,
      `The helix goes down at ${plan.say(angle, '°', 2)} on the centre path, and no limit of the cutter is known. Hold it against the tool maker’s data; ${plan.say(USUAL_ANGLE, '°')} is usual.`,
    );
    return;
  }
  if (angle <= limit * (1 + 1e-6)) return;
  const scale = plan.inch ? 0.0254 : 0.01;
  const most = Math.max(LEAST_LEAD, Math.floor((2 * Math.PI * radius * tangent(limit)) / scale + 1e-9) * scale);
  const instead = parameter === 'lead' ? `a lead of ${plan.say(most)}` : `a ramp angle of ${plan.say(limit, '°', 2)}`;
  plan.problem(
    parameter,
    `The helix goes down at ${plan.say(Math.max(angle, limit + 0.01), '°', 2)} on the centre path, and the cutter may ramp ${plan.say(limit, '°', 2)}. Give ${instead} or less.`,
  );
};

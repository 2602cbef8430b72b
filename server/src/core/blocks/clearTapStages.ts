/** The stages that a broken tap is cut out in: levels, facts, and how they are written. Lengths mm, feeds mm/min. */
import { type BlockWriter, formatLength } from './blockWriter.ts';
import { usualLead } from './clearTapAdvice.ts';
import { levelsOf } from './commonParameters.ts';
import type { TurnForm } from './formsOfTurns.ts';
import { factsOfFeeds, type HelixCutter } from './helixCutter.ts';
import { evenLead } from './helixLead.ts';
import { type HelixWay, sayTime, secondsOfWay, writeHelixWay } from './helixWay.ts';
import type { Place } from './parameter.ts';
import type { BlockPlan } from './plan.ts';
import type { Values } from './values.ts';

/** The ways down, stage by stage, each with turns in the air above what it finds, and with a level turn. */
export const stagesOf = (
  values: Values,
  plan: BlockPlan,
  circle: Pick<HelixWay, 'radius' | 'feed' | 'clockwise'>,
  tool: number,
): HelixWay[] => {
  const fracture = values.number('top') - values.number('broken-at');
  const length = values.number('length');
  const count = Math.max(1, Math.ceil(length / values.number('stage') - 1e-9));
  const depth = length / count;
  const even = evenLead(depth, usualLead(values, plan, tool));
  const ways = Array.from({ length: count }, (_, stage): HelixWay => {
    const reached = fracture - depth * stage;
    const air = stage === 0 ? values.number('air-turns') : 1;
    const from = reached + air * even.lead;
    return { ...circle, from, to: reached - depth, turns: even.turns + air, levelTurns: 1, away: 0 };
  });
  plan.lowest = fracture - length;
  plan.fact('stages', 'Stages', `${count}, ${plan.say(depth)} each`);
  plan.fact(
    'turns',
    'Turns',
    ways.reduce((sum, way) => sum + way.turns, 0),
  );
  plan.fact('lead', 'Lead a turn', even.lead, 'mm');
  plan.fact('ramp-angle', 'Ramp angle', (Math.atan(even.lead / (2 * Math.PI * circle.radius)) * 180) / Math.PI, '°', 2);
  return ways;
};

/** Facts of the stages: path, feeds, levels, reach, time. */
export const factsOfStages = (
  values: Values,
  plan: BlockPlan,
  { diameter }: HelixCutter,
  ways: readonly HelixWay[],
  wallFeed: number,
): void => {
  const { clearance } = levelsOf(values);
  const [{ radius, feed, from }] = ways;
  plan.fact('path', 'Path of the centre', `diameter ${plan.say(2 * radius)}`);
  factsOfFeeds(values, plan, [feed], (feed * (2 * radius + diameter)) / (2 * radius));
  plan.fact('start', 'Turns begin at', `Z${plan.say(from)}`);
  plan.fact('bottom', 'Deepest point', `Z${plan.say(ways[ways.length - 1].to)}`);
  plan.fact('reach', 'Reach of the cutter needed', values.number('broken-at') + values.number('length'), 'mm');
  const { helixFeed } = plan.context.configuration.profile;
  const seconds = ways.reduce(
    (sum, way) => sum + secondsOfWay(way, helixFeed) + (Math.abs(clearance - way.from) / wallFeed) * 60,
    0,
  );
  plan.fact('time', 'Time at feed', sayTime(seconds));
};

/** What all stages share. */
interface StageWork {
  readonly form: TurnForm;
  readonly centre: Place;
  readonly ways: readonly HelixWay[];
  readonly wallFeed: number;
  readonly speed: number;
  readonly hand: 'right' | 'left';
}

/** Writes the stages from the retract level over the hole and back to it, with a look in between. */
export const writeStages = (writer: BlockWriter, values: Values, work: StageWork): void => {
  const { form, centre, ways, wallFeed, speed, hand } = work;
  const { clearance, retract } = levelsOf(values);
  ways.forEach((way, stage) => {
    if (stage > 0) lookIn(writer, values.text('stop') === 'optional' ? 'M1' : 'M0', speed, hand);
    writer.remark(`STAGE ${stage + 1} OF ${ways.length} DOWN TO Z${said(writer, way.to)}`);
    writer.rapid(['Z', Math.max(clearance, way.from)]);
    // Straight down in the open hole, at feed all the same: nobody knows what stands in it.
    writer.cut(wallFeed, ['Z', way.from]);
    writeHelixWay(writer, form, centre, way);
    writer.rapid(['Z', retract]);
  });
};

const said = ({ inch }: BlockWriter, length: number): string => formatLength(length / (inch ? 25.4 : 1), inch);

/** Between stages the spindle stands: the stop is for a hand with an air gun and an eye at the hole. */
const lookIn = (writer: BlockWriter, stop: 'M0' | 'M1', speed: number, hand: 'right' | 'left'): void => {
  writer.coolantOff();
  writer.block('M5');
  writer.remark('BLOW OUT AND LOOK');
  writer.block(stop);
  writer.block(['S', speed], hand === 'left' ? 'M4' : 'M3');
  writer.coolantOn();
};

/** Radial passes of helical bore and boss, and what bores and bosses share: parameters, levels, walls between. Lengths mm. */
import { roundLength, type Section } from './blockWriter.ts';
import {
  CENTRE_PARAMETERS,
  CLEARANCE,
  centresOf,
  choice,
  levelsOf,
  number,
  RETRACT,
  SPEED_AND_FEED,
  TOP,
  yesNo,
} from './commonParameters.ts';
import { FORM, type TurnForm } from './formsOfTurns.ts';
import { centreFeed, FEED_AT, factsOfFeeds, type HelixCutter } from './helixCutter.ts';
import { LEAD_PARAMETERS } from './helixLead.ts';
import { type HelixWay, onGrid, sayTime, secondsOfWay, standOf, writeHelixWay } from './helixWay.ts';
import type { Parameter, Place } from './parameter.ts';
import type { BlockPlan, WriteBody } from './plan.ts';
import type { Values } from './values.ts';

const inGroup = (group: string, ...parameters: readonly Parameter[]): Parameter[] =>
  parameters.map((parameter) => ({ group, ...parameter }));

/** Depth, through, breakout. */
export const depthParameters = (group: string): readonly Parameter[] =>
  inGroup(
    group,
    number('depth', 'Depth', 'mm', 'Depth below the top.', { needed: true, least: 0.01 }),
    yesNo('through', 'Through', 'It goes through: the cutter goes on by the breakout.'),
    number('breakout', 'Breakout', 'mm', 'How far the cutter goes beyond the depth where it goes through.', {
      least: 0,
      fallback: '0.5',
      onlyWith: { name: 'through', values: ['yes'] },
    }),
  );

/** How the helix is cut, feeds, places and levels. */
export const PASS_PARAMETERS: readonly Parameter[] = [
  ...LEAD_PARAMETERS,
  ...inGroup(
    'How',
    choice('direction', 'Direction', 'Climb or conventional milling.', [
      ['climb', 'Climb'],
      ['conventional', 'Conventional'],
    ]),
    number('passes', 'Passes', '', 'Ways down the helix, each nearer to the wall, before the finishing one.', {
      whole: true,
      least: 1,
      most: 50,
      fallback: '1',
    }),
    number('finish', 'Finishing allowance', 'mm', 'Left on the wall for a last way down of its own. 0: none.', {
      least: 0,
      fallback: '0',
    }),
    number('spring', 'Level turns', '', 'Level turns at the bottom of the last way down; the others have one.', {
      whole: true,
      least: 1,
      most: 10,
      fallback: '1',
    }),
    FORM,
  ),
  ...SPEED_AND_FEED,
  FEED_AT,
  ...CENTRE_PARAMETERS,
  TOP,
  CLEARANCE,
  RETRACT,
];

/** A pass nearer to the one before it than this is a slip. */
const LEAST_STEP = 0.01;

/**
 * Radii of the cutter's centre, pass by pass, from `from` (not cut) to the wall's: even steps, and where a finishing allowance
 * is asked for one of its own. Undefined, with a problem, where a step is next to nothing.
 */
export const passRadii = (values: Values, plan: BlockPlan, from: number, wall: number): number[] | undefined => {
  const passes = values.number('passes');
  const finish = values.number('finish');
  const side = Math.sign(wall - from);
  const way = Math.abs(wall - from) - finish;
  if (way < LEAST_STEP - 1e-9) {
    plan.problem(
      'finish',
      `A finishing allowance of ${plan.say(finish)} leaves nothing to be roughed: ${plan.say(Math.abs(wall - from))} a side is to be cut. Take a smaller one.`,
    );
    return undefined;
  }
  if (way / passes < LEAST_STEP - 1e-9) {
    plan.problem(
      'passes',
      `${passes} passes would be ${plan.say(way / passes, 'mm', 5)} each; the least is ${plan.say(LEAST_STEP)}. Take ${Math.floor(way / LEAST_STEP + 1e-9)} or fewer.`,
    );
    return undefined;
  }
  const roughing = Array.from({ length: passes }, (_, i) => from + (side * way * (i + 1)) / passes);
  const all = finish > 0 ? [...roughing, wall] : roughing;
  return all.map((radius) => roundLength(radius, plan.inch));
};

/** Levels of the block, Z mm, and the deepest point. Sets what the executed path is held against. */
export const depthOf = (values: Values, plan: BlockPlan): { top: number; bottom: number; depth: number } => {
  const depth = values.number('depth') + (values.isYes('through') ? values.number('breakout') : 0);
  const { top, retract } = levelsOf(values);
  plan.endHeight = retract;
  plan.lowest = top - depth;
  plan.fact('bottom', 'Deepest point', `Z${plan.say(top - depth, 'mm')}`);
  return { top, bottom: top - depth, depth };
};

/** Centres as the block writes them. */
export const writtenCentres = (values: Values, plan: BlockPlan): readonly Place[] =>
  centresOf(values).map((centre) => onGrid(centre, plan.inch));

/** Shortest way between two of the centres; infinite for one. */
export const leastDistance = (centres: readonly Place[]): number => {
  let least = Number.POSITIVE_INFINITY;
  centres.forEach(([x, y], i) => {
    for (const [otherX, otherY] of centres.slice(i + 1)) least = Math.min(least, Math.hypot(otherX - x, otherY - y));
  });
  return least;
};

/** The ways down, one for each radius: the last with the level turns asked for, the others with one. */
export const waysDown = (
  values: Values,
  plan: BlockPlan,
  cutter: HelixCutter,
  radii: readonly number[],
  wallFeed: number,
  shape: Pick<HelixWay, 'from' | 'to' | 'turns' | 'away'>,
): HelixWay[] => {
  const isInside = shape.away === 0;
  // A cutter that turns clockwise cuts climbing when it goes round counter-clockwise inside, clockwise outside.
  const isClimb = values.text('direction') === 'climb';
  const clockwise = (isClimb === isInside) === (cutter.hand === 'left');
  return radii.map((radius, i) => ({
    ...shape,
    radius,
    clockwise,
    feed: centreFeed(values, plan, wallFeed, radius, wallOf(radius, cutter, isInside)),
    levelTurns: i === radii.length - 1 ? values.number('spring') : 1,
  }));
};

/** Diameter of the wall that the cutter leaves on a circle of its centre. */
const wallOf = (radius: number, { diameter }: HelixCutter, isInside: boolean): number =>
  2 * radius + (isInside ? diameter : -diameter);

/** Facts of the path, the feeds and the time. */
export const factsOfWays = (
  values: Values,
  plan: BlockPlan,
  cutter: HelixCutter,
  ways: readonly HelixWay[],
  centres: number,
): void => {
  const { radius, feed, away } = ways[ways.length - 1];
  const feeds = ways.map((way) => way.feed);
  plan.fact('path', 'Path of the centre', `diameter ${ways.map((way) => plan.say(2 * way.radius)).join(', ')}`);
  factsOfFeeds(values, plan, feeds, (feed * wallOf(radius, cutter, away === 0)) / (2 * radius));
  const { helixFeed } = plan.context.configuration.profile;
  const approach = values.number('clearance');
  const seconds = ways.reduce((sum, way) => sum + secondsOfWay(way, helixFeed) + (approach / way.feed) * 60, 0);
  plan.fact('time', 'Time at feed', sayTime(seconds * centres));
};

/** All ways at all centres, each from clearance level to retract level. */
export const writePasses =
  (
    values: Values,
    cutter: HelixCutter,
    speed: number,
    form: TurnForm,
    centres: readonly Place[],
    ways: readonly HelixWay[],
  ): WriteBody =>
  (writer) => {
    const { top, clearance, retract } = levelsOf(values);
    const section: Section = {
      toolNumber: values.optionalNumber('tool-number'),
      description: cutter.row?.description ?? '',
      speed,
      hand: cutter.hand,
      at: standOf(centres[0], ways[0]),
      retract,
    };
    writer.section(section);
    centres.forEach((centre, index) => {
      const stand = standOf(centre, ways[0]);
      if (index > 0) writer.rapid(['X', stand[0]], ['Y', stand[1]]);
      for (const way of ways) {
        writer.rapid(['Z', clearance]);
        writer.cut(way.feed, ['Z', top]);
        writeHelixWay(writer, form, centre, way);
      }
      writer.rapid(['Z', retract]);
    });
  };

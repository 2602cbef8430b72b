/** The cutter that goes round: what tool table and values tell of it, speed and feeds. Lengths mm, feeds mm/min. */
import type { ToolRow } from '../machine/configuration.ts';
import { roundFeed } from './blockWriter.ts';
import { choice, number } from './commonParameters.ts';
import type { CutterData } from './cuttingData.ts';
import type { Parameter } from './parameter.ts';
import type { BlockPlan } from './plan.ts';
import { CUTTING_LENGTH } from './shapeParameters.ts';
import type { Values } from './values.ts';

const CUTTER = number('tool', 'Cutter', 'mm', 'Diameter of the cutter.', {
  needed: true,
  above: 0,
  group: 'Tool',
});
const CORNER_RADIUS = number(
  'corner-radius',
  'Corner radius',
  'mm',
  'Radius at the corner of the cutter’s end. 0: a sharp corner.',
  { least: 0, fallback: '0', group: 'Tool' },
);
/** Teeth; no default, since the tool table may tell. */
const FLUTES = number(
  'flutes',
  'Teeth',
  '',
  'Teeth of the cutter, for the feed a tooth. Left out: as the tool table has it, else 4.',
  { whole: true, least: 1, most: 40, group: 'Tool' },
);
/** What a cutter that goes down a helix is: diameter, end, teeth, length of its flutes. */
export const HELIX_CUTTER: readonly Parameter[] = [CUTTER, CORNER_RADIUS, FLUTES, CUTTING_LENGTH];
export const FEED_AT: Parameter = {
  ...choice(
    'feed-at',
    'Feed holds at',
    'At the wall: the feed of the cutter’s centre is computed from it. At the centre: the feed is written as it is given.',
    [
      ['wall', 'The wall'],
      ['centre', 'The cutter’s centre'],
    ],
  ),
  group: 'Speed and feed',
};

/** A cutter and its end. */
export interface HelixCutter extends CutterData {
  readonly cornerRadius: number;
  /** Width of the flat end. */
  readonly flat: number;
  readonly hand: 'right' | 'left';
  /** Teeth as given or by the tool table; undefined where the usual number was taken. */
  readonly knownTeeth: number | undefined;
  /** Length of the flutes, as given or by the tool table. */
  readonly fluteLength: number | undefined;
  readonly row: ToolRow | undefined;
}

/** Teeth of an end mill that no table tells of (common practice, no source). */
const USUAL_TEETH = 4;

/** The tool table's row of the tool called or in the spindle, where it is of this diameter. */
const rowOf = (values: Values, { context }: BlockPlan, diameter: number): ToolRow | undefined => {
  const called = values.optionalNumber('tool-number');
  const row =
    called === undefined
      ? context.tool?.row
      : context.configuration.tools.find((candidate) => candidate.number === called);
  return row?.diameter !== undefined && Math.abs(row.diameter - diameter) < 0.01 ? row : undefined;
};

/** The cutter; a problem where its end has no flat left. */
export const cutterOf = (values: Values, plan: BlockPlan): HelixCutter => {
  const diameter = values.number('tool');
  const cornerRadius = values.number('corner-radius');
  const row = rowOf(values, plan, diameter);
  if (cornerRadius >= diameter / 2) {
    plan.problem(
      'corner-radius',
      `A corner radius of ${plan.say(cornerRadius)} leaves a cutter of ${plan.say(diameter)} no flat end, and a core would stand. Take a cutter with less than ${plan.say(diameter / 2)}.`,
    );
  }
  const knownTeeth = values.optionalNumber('flutes') ?? row?.teeth;
  const teeth = knownTeeth ?? USUAL_TEETH;
  plan.fact('flutes', 'Teeth', `${teeth}${knownTeeth === undefined ? ' (usual)' : ''}`);
  return {
    kind: 'end-mill',
    diameter,
    cutting: row?.cuttingMaterial ?? 'carbide',
    teeth,
    cornerRadius,
    flat: Math.max(0, diameter - 2 * cornerRadius),
    hand: row?.hand ?? 'right',
    knownTeeth,
    fluteLength: values.optionalNumber('cutting-length') ?? row?.fluteLength,
    row,
  };
};

/**
 * Feed of the cutter's centre on a circle about the work's axis, rounded down: F_centre = F_wall·(D − d)/D inside,
 * F_wall·(D + d)/D outside (D wall, d cutter), since wall and centre go round in the same time. Not over the machine's top feed.
 */
export const centreFeed = (
  values: Values,
  { inch, context }: BlockPlan,
  feed: number,
  radius: number,
  wallDiameter: number,
): number => {
  if (holdsAtCentre(values)) return feed;
  const top = context.configuration.machine?.topFeed ?? Number.POSITIVE_INFINITY;
  return roundFeed(Math.min((feed * 2 * radius) / wallDiameter, top), inch);
};

/** A feed that was computed is always that of the wall. */
const holdsAtCentre = (values: Values): boolean => values.text('feed-at') === 'centre' && values.isGiven('feed');

/** Feeds of several passes as one fact, and the feed at the wall where that of the centre was given. */
export const factsOfFeeds = (values: Values, plan: BlockPlan, feeds: readonly number[], lastWallFeed: number): void => {
  const texts = [...new Set(feeds.map((feed) => plan.say(feed, 'mm/min')))];
  const unit = texts[0]?.slice(texts[0].indexOf(' ')) ?? '';
  plan.fact('centre-feed', 'Feed of the centre', texts.map((text) => text.replace(unit, '')).join(', ') + unit);
  if (holdsAtCentre(values)) plan.fact('wall-feed', 'Feed at the wall', lastWallFeed, 'mm/min');
};

/** A word where the flutes are shorter than the way into the work. */
export const wordOnFlutes = (
  plan: BlockPlan,
  { fluteLength: flutes }: HelixCutter,
  depth: number,
  parameter: string,
): void => {
  if (flutes === undefined || depth <= flutes + 1e-9) return;
  plan.word(
    parameter,
    `The cutter goes ${plan.say(depth)} deep and its flutes are ${plan.say(flutes)} long. Take one with longer flutes, or see that its shank clears the wall.`,
  );
};

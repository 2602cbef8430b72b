/** The places of a row of holes as the values give them, with what keeps a pattern from being made. */
import { formatLength } from './blockWriter.ts';
import { centresOf } from './commonParameters.ts';
import type { Place } from './parameter.ts';
import { anglePitch, closestPair, holeCount, type Pattern, patternPlaces } from './patterns.ts';
import type { BlockPlan } from './plan.ts';
import type { Values } from './values.ts';

/** More holes than anybody writes into a program block by block. */
const MOST_HOLES = 2000;
/** Places closer than this are one hole, mm. */
const SAME_PLACE = 0.01;
/** How many places are listed beside the form. */
const MOST_LISTED = 24;

/** Names that only some patterns use. */
const USED: Readonly<Record<string, readonly string[]>> = {
  list: [],
  row: ['count', 'spacing', 'angle'],
  grid: ['count', 'spacing', 'angle'],
  frame: ['count', 'spacing', 'angle'],
  circle: ['count', 'radius', 'start', 'sweep', 'angle'],
};

/** All places in the order they are made; undefined where a problem was found. Facts: number of holes, the places. */
export const holePlaces = (values: Values, plan: BlockPlan): readonly Place[] | undefined => {
  const kind = values.text('pattern');
  sayUnused(values, plan, kind);
  const centres = centresOf(values);
  const places = kind === 'list' ? centres : spread(values, plan, kind, centres);
  if (places === undefined) return undefined;
  plan.fact('holes', 'Holes', places.length);
  plan.fact('places', 'Places', placesText(places, plan));
  const pair = closestPair(places);
  if (pair !== undefined && pair.distance < SAME_PLACE) {
    const place = placeText(places[pair.first], plan);
    plan.problem(
      spacingName(kind),
      `Holes ${pair.first + 1} and ${pair.second + 1} lie in the same place (${place}). Name each place once.`,
    );
    return undefined;
  }
  return places;
};

/** The parameter that sets the holes apart. */
const spacingName = (kind: string): string => (kind === 'list' ? 'at' : kind === 'circle' ? 'radius' : 'spacing');

const spread = (
  values: Values,
  plan: BlockPlan,
  kind: string,
  centres: readonly Place[],
): readonly Place[] | undefined => {
  const pattern = patternOf(values, plan, kind);
  if (pattern === undefined) return undefined;
  const count = holeCount(pattern) * centres.length;
  if (count > MOST_HOLES) {
    plan.problem('count', `That makes ${count} holes; the most of one block is ${MOST_HOLES}. Make several blocks.`);
    return undefined;
  }
  return centres.flatMap((centre) => patternPlaces(pattern, centre));
};

const sayUnused = (values: Values, plan: BlockPlan, kind: string): void => {
  for (const name of ['count', 'spacing', 'radius', 'start', 'sweep', 'angle']) {
    if (values.isGiven(name) && !USED[kind].includes(name))
      plan.word(name, `The pattern ${kind} does not use ${name}. It takes at${['', ...USED[kind]].join(', ')}.`);
  }
};

const patternOf = (values: Values, plan: BlockPlan, kind: string): Pattern | undefined => {
  const counts = values.pair('count');
  if (counts === undefined) {
    plan.problem(
      'count',
      `How many holes the ${kind} has is missing. Give count, such as ${kind === 'grid' || kind === 'frame' ? '4,3' : '6'}.`,
    );
    return undefined;
  }
  if (kind === 'circle') return circleOf(values, plan, counts);
  const spacings = values.pair('spacing');
  if (spacings === undefined || spacings.some((spacing) => spacing === 0)) {
    plan.problem(
      'spacing',
      `The ${kind} needs the distance from hole to hole. Give spacing, such as ${kind === 'row' ? '10' : '10,12'}.`,
    );
    return undefined;
  }
  const angle = values.number('angle');
  if (kind === 'row') {
    return oneOf(counts, plan, 'count', kind) && oneOf(spacings, plan, 'spacing', kind)
      ? { kind: 'row', count: counts[0], spacing: spacings[0], angle }
      : undefined;
  }
  const both: readonly [number, number] = [counts[0], counts[1] ?? counts[0]];
  if (kind === 'frame' && Math.min(...both) < 2) {
    plan.problem(
      'count',
      `A frame of ${both.join(' by ')} holes is a row. Give 2 or more for each side, or take the pattern row.`,
    );
    return undefined;
  }
  const shape = kind === 'frame' ? 'frame' : 'grid';
  return { kind: shape, counts: both, spacings: [spacings[0], spacings[1] ?? spacings[0]], angle };
};

const circleOf = (values: Values, plan: BlockPlan, counts: readonly number[]): Pattern | undefined => {
  const radius = values.optionalNumber('radius');
  if (radius === undefined) {
    plan.problem('radius', 'The circle needs its radius, half of the bolt circle’s diameter. Give radius.');
    return undefined;
  }
  if (!oneOf(counts, plan, 'count', 'circle')) return undefined;
  const [count] = counts;
  const sweep = values.number('sweep');
  if (count > 1 && sweep === 0) {
    plan.problem(
      'sweep',
      `A sweep of 0° puts all ${count} holes in one place. Give the angle from the first hole to the last, or 360 for a full circle.`,
    );
    return undefined;
  }
  const pitch = anglePitch(count, sweep);
  if (count > 1) {
    plan.fact('angle-pitch', 'Angle from hole to hole', pitch, '°', 4);
    plan.fact('chord', 'Distance from hole to hole', 2 * radius * Math.abs(Math.sin((pitch * Math.PI) / 360)), 'mm');
  }
  return { kind: 'circle', count, radius, start: values.number('start') + values.number('angle'), sweep };
};

/** True where one number is given; a second one has no meaning. */
const oneOf = (numbers: readonly number[], plan: BlockPlan, name: string, kind: string): boolean => {
  if (numbers.length === 1) return true;
  plan.problem(
    name,
    `The pattern ${kind} takes one number for ${name}, not two. Take the pattern grid for rows side by side.`,
  );
  return false;
};

/** "X10. Y-4.5" in the program's units. */
const placeText = ([x, y]: Place, { inch }: BlockPlan): string => {
  const factor = inch ? 25.4 : 1;
  return `X${formatLength(x / factor, inch)} Y${formatLength(y / factor, inch)}`;
};

const placesText = (places: readonly Place[], plan: BlockPlan): string => {
  const listed = places.slice(0, MOST_LISTED).map((place) => placeText(place, plan));
  const more = places.length - listed.length;
  return [...listed, ...(more > 0 ? [`and ${more} more`] : [])].join('; ');
};

/** A word where neighbouring holes run into each other. `widest`: diameter of the widest operation, mm. */
export const warnOfOverlap = (values: Values, places: readonly Place[], widest: number, plan: BlockPlan): void => {
  const pair = closestPair(places);
  if (pair === undefined || pair.distance >= widest) return;
  plan.word(
    spacingName(values.text('pattern')),
    `Holes ${pair.first + 1} and ${pair.second + 1} are ${plan.say(pair.distance)} apart and ${plan.say(widest)} wide: they run into each other. Space them by more than ${plan.say(widest)}.`,
  );
};

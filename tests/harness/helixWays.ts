/** The ways down a helix in an executed block: cut out of its moves, and measured. Lengths mm. */
import { type BlockContext, contextAlone } from '../../server/src/core/blocks/context.ts';
import { entryLines } from '../../server/src/core/blocks/prove.ts';
import { Analysis } from '../../server/src/core/checks/analysis.ts';
import { type TracedArc, type TracedMove, tracedMoves } from '../../server/src/core/features/trace.ts';
import { DEFAULT_CONFIGURATION } from '../../server/src/core/machine/configuration.ts';
import { Mode } from '../../server/src/core/machine/modes.ts';
import { type ControlProfile, PROFILES } from '../../server/src/core/machine/profile.ts';
import { makeBlock } from './blocks.ts';

/** A move along an arc. */
export type ArcMove = TracedMove & { readonly arc: TracedArc };

/** What is cut between a rapid down and a rapid up. */
export interface Way {
  /** The rapid down, the straight feed down to where the arcs begin, and the rapid up. */
  readonly down: TracedMove;
  readonly feedDown: TracedMove;
  readonly up: TracedMove;
  readonly leadIn: ArcMove;
  readonly leadOut: ArcMove;
  /** Arcs between that go down, and those that stay level. */
  readonly helix: readonly ArcMove[];
  readonly level: readonly ArcMove[];
  /** Whole turns of both. */
  readonly turns: number;
  readonly levelTurns: number;
}

const turnsOf = (arcs: readonly ArcMove[]): number => arcs.reduce((sum, { arc }) => sum + Math.abs(arc.sweep) / 360, 0);

/** Makes and executes a block without looking for findings: quick, for properties of many cases. @throws where it cannot be made */
export const tracedBlock = (
  name: string,
  raw: Readonly<Record<string, string | number>>,
  context: BlockContext = contextAlone(DEFAULT_CONFIGURATION),
): { readonly lines: readonly string[]; readonly moves: readonly TracedMove[] } => {
  const { lines, problems } = makeBlock(name, raw, context);
  if (lines === undefined)
    throw new Error(`${JSON.stringify(raw)}: ${problems.map(({ message }) => message).join(' | ')}`);
  const head = entryLines(context);
  const analysis = new Analysis([...head, ...lines, ''].join('\n'), context.configuration);
  analysis.run();
  const range = { firstLine: head.length, lastLine: head.length + lines.length - 1 };
  return { lines, moves: [...tracedMoves(analysis, range)] };
};

/** The ways of a block in their order. @throws where moves come in any other order than down, feed, arcs, up */
export const waysOf = ({ moves }: { readonly moves: readonly TracedMove[] }): Way[] => {
  const ways: Way[] = [];
  for (let i = 0; i < moves.length; i++) {
    if (moves[i].kind !== 'arc') continue;
    const first = i;
    while (moves[i]?.kind === 'arc') i++;
    const arcs = moves.slice(first, i) as ArcMove[];
    const [down, feedDown, up] = [moves[first - 2], moves[first - 1], moves[i]];
    const isInOrder = down?.kind === 'rapid' && feedDown?.kind === 'line' && up?.kind === 'rapid';
    if (!isInOrder) throw new Error(`Moves about ${first} come in another order.`);
    const round = arcs.slice(1, -1);
    const helix = round.filter(({ from, to }) => from[2] !== to[2]);
    const level = round.filter(({ from, to }) => from[2] === to[2]);
    ways.push({
      down,
      feedDown,
      up,
      leadIn: arcs[0],
      leadOut: arcs[arcs.length - 1],
      helix,
      level,
      turns: turnsOf(helix),
      levelTurns: turnsOf(level),
    });
  }
  return ways;
};

/** Heights of a helix at the ends of its whole turns, however many turns a block holds. */
export const heightsOf = ({ helix }: Way): number[] =>
  helix.flatMap(({ from, to, arc }) => {
    const turns = Math.round(Math.abs(arc.sweep) / 360);
    return Array.from({ length: turns }, (_, i) => from[2] + ((to[2] - from[2]) * (i + 1)) / turns);
  });

/** @throws where it does not hold: many times quicker than an expectation, for properties of many cases */
export const must = (holds: boolean, what: string): void => {
  if (!holds) throw new Error(what);
};

/** @throws where a number is further off than `room` */
export const near = (actual: number, wanted: number, room: number): void =>
  must(Math.abs(actual - wanted) <= room * 1.0001, `${actual} is not within ${room} of ${wanted}`);

/** All numbers of a way that the form of its turns must not change. */
export const measuresOf = (way: Way): number[] => [
  ...heightsOf(way),
  ...way.helix[0].arc.centre,
  way.helix[0].arc.radius,
  way.helix[0].feed,
  ...[way.leadIn, way.leadOut].flatMap(({ from, to, arc, feed }) => [...from, ...to, ...arc.centre, arc.sweep, feed]),
];

/** @throws where two lists differ by more than `room` */
export const sameNumbers = (actual: readonly number[], wanted: readonly number[], room: number): void => {
  must(actual.length === wanted.length, 'as many turns');
  for (const [i, value] of actual.entries()) near(value, wanted[i], room);
};

/** Modes behind a block that was executed where its context says. */
export const modesBehind = (lines: readonly string[], context: BlockContext): { before: number[]; after: number[] } => {
  const head = entryLines(context);
  const analysis = new Analysis([...head, ...lines, ''].join('\n'), context.configuration);
  analysis.run();
  const row = (modes: Float64Array): number[] =>
    [Mode.units, Mode.plane, Mode.distance, Mode.feedMode, Mode.retract, Mode.arcDistance, Mode.feed, Mode.speed].map(
      (field) => modes[field],
    );
  return {
    before: [...row(analysis.stateBefore(head.length).modes)],
    after: [...row(analysis.stateAfter(head.length + lines.length - 1).modes)],
  };
};

/** Every profile with every unit that a block is to work under, and one whose controls count extra turns. */
export const PLACES_TO_STAND: readonly BlockContext[] = [
  ...Object.values(PROFILES),
  { ...PROFILES.iso, name: 'extra', turns: { letter: 'L', counts: 'extra' } } satisfies ControlProfile,
].flatMap((profile) =>
  (['mm', 'inch'] as const).map((units) => contextAlone({ ...DEFAULT_CONFIGURATION, profile }, units)),
);

/** The same places with other modes in force, F and S known. */
export const WITH_OTHER_MODES: readonly BlockContext[] = PLACES_TO_STAND.flatMap((context) => {
  const strict = context.configuration.profile.name === 'rs274ngc';
  const known = { feed: 254, speed: 900, spindle: 3, height: 50.8 };
  return [
    { ...context, entry: { ...context.entry, ...known, distance: 91, plane: 18, motion: 10 } },
    { ...context, entry: { ...context.entry, ...known, plane: 19, motion: 0, feedMode: strict ? 94 : 95, feed: 2.54 } },
    { ...context, entry: { ...context.entry, ...known, spindle: 5, motion: 10, height: 1.27 }, firstNumber: 100 },
    { ...context, entry: { ...context.entry, ...known, arcDistance: strict ? 91 : 90, retract: 99 } },
  ];
});

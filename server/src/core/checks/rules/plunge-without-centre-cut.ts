import type { Configuration } from '../../machine/configuration.ts';
import { Mode } from '../../machine/modes.ts';
import { MoveFlag, MoveKind } from '../../machine/moves.ts';
import type { Passage, ProgramFacts } from '../facts.ts';
import type { Segment } from '../segment.ts';
import { wordsPlace } from '../support/blockPlace.ts';
import { cutNearBefore, type LookingBudget, lookingBudget } from '../support/cutsNear.ts';
import { type DrilledHole, drilledHoles, isBefore } from '../support/drilledHoles.ts';
import { surroundings } from '../support/followingCuts.ts';
import { defineRule } from '../support/gradedRule.ts';
import { goesSideways, kindOf, PathPlace, perSegment, startOf } from '../support/pathWalk.ts';
import { asLength, unitOf } from '../support/programLengths.ts';
import { stockShape, topOfWork } from '../support/stockShape.ts';
import { toolNameFirst, toolShape } from '../support/toolShape.ts';

/** A cutter that does not cut over its centre goes straight down into the work. */
export const plungeWithoutCentreCut = defineRule({
  code: 'plunge-without-centre-cut',
  severity: 'warning',
  severities: { perhaps: 'hint' },
  reason: 'The middle of such a cutter does not cut: it is pressed on a plug of material until it breaks.',
  messages: {
    plunge:
      '{name} does not cut over its centre and goes straight down to Z{level} at feed. Go in by a ramp or a helix, or drill there first.',
    perhaps:
      '{name} does not cut over its centre and goes straight down to Z{level} at feed. That is right beside the part or over a hole; in the material go in by a ramp or a helix.',
  },
  program(facts, report) {
    if (!hasSuchTool(facts.configuration)) return;
    let passages: readonly Passage[] | undefined;
    let holes: readonly DrilledHole[] = [];
    const told = new Set<number>();
    const budget = lookingBudget();
    let number = -1;
    for (const { segment, firstLine } of facts.passages()) {
      number++;
      for (const move of plungesOf(segment, facts)) {
        const line = firstLine + segment.moves.lines[move];
        if (told.has(line)) continue;
        if (passages === undefined) {
          passages = [...facts.passages()];
          holes = drilledHoles(passages, facts);
        }
        const message = judge(new PathPlace(passages, number, move), holes, facts, budget);
        if (message === undefined) continue;
        told.add(line);
        const modes = segment.moves.modes[move];
        const { start, end } = wordsPlace(facts.lineText(line));
        report(message, line, start, end, {
          name: toolNameFirst(toolShape(facts.configuration, facts.pool, modes)),
          level: asLength(levelOf(segment, move, facts), unitOf(facts.pool, modes)),
        });
      }
    }
  },
});

/** The level that a plunge leads to: of a cycle its depth, and not that of its first peck. */
const levelOf = ({ moves }: Segment, move: number, { pool }: ProgramFacts): number =>
  (moves.kinds[move] & MoveFlag.cycle) !== 0 ? pool.at(moves.modes[move], Mode.cycleDepth) : moves.ends[move * 3 + 2];

const hasSuchTool = ({ tools }: Configuration): boolean => tools.some(({ centreCutting }) => centreCutting === false);

/** Feed moves straight down below the top of the work by a cutter that does not cut over its centre. */
const plungesOf = perSegment((segment: Segment, { configuration, pool }: ProgramFacts): readonly number[] => {
  const found: number[] = [];
  const { moves } = segment;
  for (let move = 0; move < moves.count; move++) {
    if (kindOf(moves, move) !== MoveKind.line) continue;
    const level = moves.ends[move * 3 + 2];
    if (!(level < startOf(segment, move, 2))) continue;
    if (goesSideways(segment, move)) continue;
    const modes = moves.modes[move];
    if (toolShape(configuration, pool, modes).row?.centreCutting !== false) continue;
    if (level < topOfWork(configuration, pool.at(modes, Mode.offset)) - 1e-6) found.push(move);
  }
  return found;
});

const judge = (
  place: PathPlace,
  holes: readonly DrilledHole[],
  facts: ProgramFacts,
  budget: LookingBudget,
): 'plunge' | 'perhaps' | undefined => {
  const { pool, configuration } = facts;
  const modes = place.segment.moves.modes[place.move];
  const tool = toolShape(configuration, pool, modes);
  const spot = { x: place.end(0), y: place.end(1), offset: pool.at(modes, Mode.offset), level: place.end(2) };
  const radius = tool.diameter === undefined ? 0 : tool.diameter / 2;
  const isDrilled = holes.some(
    (hole) =>
      hole.offset === spot.offset &&
      hole.bottom <= spot.level + 1 &&
      Math.hypot(hole.x - spot.x, hole.y - spot.y) <= radius + 0.02 &&
      isBefore(hole, place),
  );
  if (isDrilled || cutNearBefore(place, spot, 0, facts, budget)) return undefined;
  const stock = stockShape(configuration);
  if (stock !== undefined && stock.offset === spot.offset) {
    return stock.holds(spot.x, spot.y, 0) ? 'plunge' : undefined;
  }
  if (place.inCycle) return 'plunge';
  const around = surroundings(place, facts);
  if (around === 'outside') return undefined;
  return around === 'open' ? 'perhaps' : 'plunge';
};

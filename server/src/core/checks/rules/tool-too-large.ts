import { Mode } from '../../machine/modes.ts';
import { MoveKind } from '../../machine/moves.ts';
import { FactKind, type Passage, type ProgramFacts, type ProgramReport } from '../facts.ts';
import type { Segment } from '../segment.ts';
import { wordsPlace } from '../support/blockPlace.ts';
import { cutNearBefore, type LookingBudget, lookingBudget } from '../support/cutsNear.ts';
import { type DrilledHole, drilledHoles, isBefore } from '../support/drilledHoles.ts';
import { defineRule } from '../support/gradedRule.ts';
import { goesSideways, PathPlace, perSegment, startOf } from '../support/pathWalk.ts';
import { asLength, unitOf } from '../support/programLengths.ts';
import { toolName, toolNameFirst, toolShape } from '../support/toolShape.ts';

/** Two places this near are one hole, mm. */
const SAME_HOLE = 0.02;
/** A hole that begins to be fed below the work's top may begin this much lower, mm. */
const CLEARANCE = 5;
/** Cutters with a flat end as wide as they are; what is pointed or round at its end goes some way into a smaller hole. */
const FLAT: readonly (string | undefined)[] = ['end-mill', 'face-mill', 'thread-mill', 'reamer'];
/** Tools that leave a round hole of their own diameter. */
const ROUND: readonly (string | undefined)[] = ['drill', 'reamer', 'end-mill', 'boring-bar'];

/** A cutter that goes down at rapid into a hole that is smaller than it is. */
export const toolTooLarge = defineRule({
  code: 'tool-too-large',
  severity: 'error',
  reason: 'A cutter that finds no room in its hole breaks on the way in.',
  messages: {
    'hole-smaller':
      '{name}, diameter {diameter}, goes down at rapid to Z{level} into a hole of diameter {hole} that {maker} made here. Take a smaller cutter, or open the hole first.',
  },
  program(facts, report) {
    if (!hasHoles(facts)) return;
    const budget = lookingBudget();
    let passages: readonly Passage[] | undefined;
    let holes: readonly DrilledHole[] = [];
    const told = new Set<number>();
    let number = -1;
    for (const { segment, firstLine } of facts.passages()) {
      number++;
      for (const move of rapidsDown(segment, facts)) {
        if (passages === undefined) {
          passages = [...facts.passages()];
          holes = drilledHoles(passages, facts);
        }
        const line = firstLine + segment.moves.lines[move];
        if (!told.has(line) && judge(new PathPlace(passages, number, move), holes, facts, report, budget))
          told.add(line);
      }
    }
  },
});

const hasHoles = (facts: ProgramFacts): boolean => {
  for (const { segment } of facts.passages()) if ((segment.factKinds & (1 << FactKind.hole)) !== 0) return true;
  return false;
};

/** Rapids straight down that end below the zero. */
const rapidsDown = perSegment((segment: Segment): readonly number[] => {
  const found: number[] = [];
  const { kinds, ends } = segment.moves;
  for (let move = kinds.indexOf(MoveKind.rapid); move >= 0; move = kinds.indexOf(MoveKind.rapid, move + 1)) {
    const level = ends[move * 3 + 2];
    if (!goesSideways(segment, move) && level < 0 && startOf(segment, move, 2) > level) found.push(move);
  }
  return found;
});

const isTapered = (remark: string): boolean => /TAPER|BULL|RADIUS/i.test(remark);

/** True if it was reported. */
const judge = (
  place: PathPlace,
  holes: readonly DrilledHole[],
  facts: ProgramFacts,
  report: ProgramReport,
  budget: LookingBudget,
): boolean => {
  const { pool, configuration } = facts;
  const modes = place.segment.moves.modes[place.move];
  const tool = toolShape(configuration, pool, modes);
  const { diameter } = tool;
  if (diameter === undefined || !FLAT.includes(tool.kind) || isTapered(pool.string(pool.at(modes, Mode.toolRemark)))) {
    return false;
  }
  const end = diameter - 2 * (tool.row?.cornerRadius ?? 0);
  const spot = { x: place.end(0), y: place.end(1), offset: pool.at(modes, Mode.offset), level: place.end(2) };
  const here = holes.filter(
    (hole) =>
      hole.offset === spot.offset &&
      Math.hypot(hole.x - spot.x, hole.y - spot.y) < SAME_HOLE &&
      isBefore(hole, place) &&
      hole.tool !== tool,
  );
  // One hole of unknown width, or one that something else widened, and nothing is certain.
  if (here.length === 0 || here.some((hole) => hole.tool.diameter === undefined)) return false;
  const widest = here.reduce((wide, hole) => ((hole.tool.diameter ?? 0) > (wide.tool.diameter ?? 0) ? hole : wide));
  const width = widest.tool.diameter ?? 0;
  const top = Math.min(...here.map(({ retract }) => (retract > 0 ? 0 : retract - CLEARANCE)));
  if (!ROUND.includes(widest.tool.kind) || !(end > width + 0.01) || !(spot.level < top - 0.5)) return false;
  if (cutNearBefore(place, { ...spot, level: 0 }, diameter / 2, facts, budget)) return false;
  const unit = unitOf(pool, modes);
  const words = wordsPlace(facts.lineText(place.line));
  report('hole-smaller', place.line, words.start, words.end, {
    name: toolNameFirst(tool),
    diameter: asLength(diameter, unit),
    level: asLength(spot.level, unit),
    hole: asLength(width, unit),
    maker: toolName(widest.tool),
  });
  return true;
};

import { Mode } from '../../machine/modes.ts';
import type { ProgramFacts } from '../facts.ts';
import type { Segment } from '../segment.ts';
import { wordsPlace } from '../support/blockPlace.ts';
import { holesOf, type OwnHole } from '../support/drilledHoles.ts';
import { longSteps } from '../support/fluteSteps.ts';
import { defineRule } from '../support/gradedRule.ts';
import { perSegment } from '../support/pathWalk.ts';
import { asLength, unitOf } from '../support/programLengths.ts';
import { topOfWork } from '../support/stockShape.ts';
import { type ToolShape, toolNameFirst } from '../support/toolShape.ts';

/** A cut deeper than the cutter's flutes are long. */
export const depthOverFlute = defineRule({
  code: 'depth-over-flute',
  severity: 'warning',
  reason: 'Above the flutes the shank rubs, and no chip comes out.',
  messages: {
    mill: '{name} goes from Z{from} to Z{level} in one step, {depth} deep, and its flutes are {flute} long. Take it in smaller steps, or a cutter with longer flutes.',
    drill:
      '{name} drills from Z{from} to Z{level}, {depth} deep, and its flutes are {flute} long, so no chip gets out. Take a longer drill.',
  },
  program(facts, report) {
    const { configuration, pool } = facts;
    if (!configuration.tools.some(({ fluteLength }) => fluteLength !== undefined)) return;
    const told = new Set<string>();
    const tell = (message: string, tool: ToolShape, line: number, modes: number, from: number, level: number) => {
      const key = `${message} ${tool.number}`;
      if (told.has(key) || !isDeeper(from, level, tool)) return;
      told.add(key);
      const unit = unitOf(pool, modes);
      const { start, end } = wordsPlace(facts.lineText(line));
      report(message, line, start, end, {
        name: toolNameFirst(tool),
        from: asLength(from, unit),
        level: asLength(level, unit),
        depth: asLength(from - level, unit),
        flute: asLength(tool.row?.fluteLength ?? Infinity, unit),
      });
    };
    for (const step of longSteps(facts, (modes) => topOfWork(configuration, pool.at(modes, Mode.offset)))) {
      tell('mill', step.tool, step.line, step.modes, step.from, step.level);
    }
    for (const { segment, firstLine } of facts.passages()) {
      for (const hole of deepHoles(segment, facts)) {
        const top = topOfHole(hole, topOfWork(configuration, hole.offset));
        tell('drill', hole.tool, firstLine + hole.line, hole.modes, top, hole.bottom);
      }
    }
  },
});

/** The holes of a segment that are deeper than the flutes of their drill. */
const deepHoles = perSegment((segment: Segment, facts: ProgramFacts) =>
  holesOf(segment, facts).filter((hole) => {
    if (hole.tool.kind !== 'drill') return false;
    const top = topOfHole(hole, topOfWork(facts.configuration, hole.offset));
    return isDeeper(top, hole.bottom, hole.tool);
  }),
);

const isDeeper = (from: number, level: number, tool: ToolShape): boolean =>
  from - level > (tool.row?.fluteLength ?? Infinity) + 1e-6;

/** A hole begins at the work's top, or at the level its cycle begins to feed at where that is lower. */
const topOfHole = ({ retract }: OwnHole, top: number): number => (retract < top ? retract : top);

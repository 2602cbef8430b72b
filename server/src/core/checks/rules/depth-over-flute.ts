import { Mode } from '../../machine/modes.ts';
import { wordsPlace } from '../support/blockPlace.ts';
import { type DrilledHole, drilledHoles } from '../support/drilledHoles.ts';
import { longSteps } from '../support/fluteSteps.ts';
import { defineRule } from '../support/gradedRule.ts';
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
      const flute = tool.row?.fluteLength ?? Infinity;
      if (told.has(key) || !(from - level > flute + 1e-6)) return;
      told.add(key);
      const unit = unitOf(pool, modes);
      const { start, end } = wordsPlace(facts.lineText(line));
      report(message, line, start, end, {
        name: toolNameFirst(tool),
        from: asLength(from, unit),
        level: asLength(level, unit),
        depth: asLength(from - level, unit),
        flute: asLength(flute, unit),
      });
    };
    for (const step of longSteps(facts, (modes) => topOfWork(configuration, pool.at(modes, Mode.offset)))) {
      tell('mill', step.tool, step.line, step.modes, step.from, step.level);
    }
    const passages = [...facts.passages()];
    for (const hole of drilledHoles(passages, facts)) {
      if (hole.tool.kind !== 'drill') continue;
      const { firstLine } = passages[hole.passage];
      const top = topOfHole(hole, topOfWork(configuration, hole.offset));
      tell('drill', hole.tool, firstLine + hole.line, hole.modes, top, hole.bottom);
    }
  },
});

/** A hole begins at the work's top, or at the level its cycle begins to feed at where that is lower. */
const topOfHole = ({ retract }: DrilledHole, top: number): number => (retract < top ? retract : top);

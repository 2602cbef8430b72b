import { AXES, offsetName } from '../../machine/machinePosition.ts';
import { Mode } from '../../machine/modes.ts';
import { axisPlace } from '../support/blockPlace.ts';
import { defineRule } from '../support/gradedRule.ts';
import { asLength, unitOf } from '../support/programLengths.ts';
import { limitsOf, travelExcesses } from '../support/travel.ts';

/** A move beyond what the machine can travel. */
export const travelExceeded = defineRule({
  code: 'travel-exceeded',
  severity: 'error',
  reason: 'The control stops with an overtravel alarm, often in the middle of a cut.',
  messages: {
    beyond:
      'From here {axis} would go to {furthest} in machine coordinates, {over} beyond the limit of {limit} (offset {offset}). Move the part, or check the offset and the tool length in the shop’s file.',
  },
  program(facts, report) {
    if (limitsOf(facts.configuration).length === 0) return;
    const told = new Set<string>();
    for (const { line, modes, axis, limit, furthest } of travelExcesses(facts)) {
      const key = `${line} ${axis} ${limit}`;
      if (told.has(key)) continue;
      told.add(key);
      const unit = axis >= 3 && axis < 6 ? 1 : unitOf(facts.pool, modes);
      const { start, end } = axisPlace(facts.lineText(line), AXES[axis]);
      report('beyond', line, start, end, {
        axis: AXES[axis],
        furthest: asLength(furthest, unit),
        over: asLength(Math.abs(furthest - limit), unit),
        limit: asLength(limit, unit),
        offset: offsetName(facts.pool.at(modes, Mode.offset)),
      });
    }
  },
});

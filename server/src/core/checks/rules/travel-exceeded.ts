import { AXES, offsetName } from '../../machine/machinePosition.ts';
import { Mode } from '../../machine/modes.ts';
import { axisPlace, wordsOnly } from '../support/blockPlace.ts';
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
      'From here {axis} would go to {furthest} in machine coordinates, {over} beyond the limit of {limit}. Set the part at least {over} further to {axis} {way}, or correct {place} in blockwright.json.',
    'by-machine':
      '{axis} would go to {furthest} in machine coordinates, {over} beyond the limit of {limit}. Write {axis} behind G53 within the limits.',
  },
  program(facts, report) {
    if (limitsOf(facts.configuration).length === 0) return;
    const told = new Set<string>();
    for (const { line, modes, axis, limit, furthest } of travelExcesses(facts)) {
      const key = `${line} ${axis} ${limit}`;
      if (told.has(key)) continue;
      told.add(key);
      const unit = axis >= 3 && axis < 6 ? 1 : unitOf(facts.pool, modes);
      const text = facts.lineText(line);
      const { start, end } = axisPlace(text, AXES[axis]);
      const message = /G\s*0*53(?![\d.])/i.test(wordsOnly(text)) ? 'by-machine' : 'beyond';
      report(message, line, start, end, {
        axis: AXES[axis],
        furthest: asLength(furthest, unit),
        over: asLength(Math.abs(furthest - limit), unit),
        limit: asLength(limit, unit),
        way: furthest > limit ? 'minus' : 'plus',
        place: placeOf(AXES[axis], offsetName(facts.pool.at(modes, Mode.offset))),
      });
    }
  },
});

/** What in the shop's file places an axis. */
const placeOf = (axis: string, offset: string): string =>
  axis === 'Z' ? `the Z of ${offset} or the tool’s length` : `the ${axis} of ${offset}`;

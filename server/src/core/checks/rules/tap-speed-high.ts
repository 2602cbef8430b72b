import { Mode } from '../../machine/modes.ts';
import { type MaterialGroup, materialGroup } from '../../reference/materials.ts';
import { cuttingSpeedOf, spindleSpeedFor } from '../../reference/threadMeasures.ts';
import { defineRule } from '../support/gradedRule.ts';
import { LineReporter } from '../support/lineWords.ts';
import type { Tap } from '../support/tapInSpindle.ts';
import { strokeWords, threadName } from '../support/tapWords.ts';
import { threadWork } from '../support/threadWork.ts';

/** What coated taps stand in the softest material, m/min; carbide stands more by this factor. Common practice, no source. */
const ANY_MATERIAL = 60;
const CARBIDE = 2;

/** A tap that turns faster than taps stand. */
export const tapSpeedHigh = defineRule({
  code: 'tap-speed-high',
  severity: 'warning',
  reason: 'A tap that runs too fast burns its edges, and near the bottom there is no time to turn back.',
  messages: {
    high: 'S{speed} on {thread} is {actual} m/min ({source}), and {what} stand at most about {most} m/min. Write S{right} or less, with F to suit.',
  },
  program(facts, report) {
    const reporter = new LineReporter(facts, report);
    const { material } = facts.configuration;
    const group = material && materialGroup(material.name);
    for (const stroke of threadWork(facts).strokes) {
      const { tap, in: pass } = stroke;
      const diameter = tap?.thread?.diameter ?? tap?.row?.diameter;
      const speed = facts.pool.at(pass.modes, Mode.speed);
      if (tap === undefined || diameter === undefined || facts.pool.at(pass.modes, Mode.speedMode) !== 97) continue;
      const { most, what } = limitFor(group, tap);
      const actual = cuttingSpeedOf(diameter, speed);
      if (!(actual > most) || !reporter.isNew(`${threadName(tap)} ${speed}`)) continue;
      reporter.tell('high', pass.line, strokeWords(stroke), {
        speed,
        thread: tap.thread === undefined ? `a tap of ${diameter} mm` : threadName(tap),
        actual: Math.round(actual),
        source: tap.source,
        what,
        most,
        right: roundedDown(spindleSpeedFor(diameter, most)),
      });
    }
  },
});

const limitFor = (group: MaterialGroup | undefined, { row }: Tap): { readonly most: number; readonly what: string } => {
  const isCarbide = row?.cuttingMaterial === 'carbide';
  const taps = isCarbide ? 'carbide taps' : 'taps';
  const most = (group?.tapSpeed ?? ANY_MATERIAL) * (isCarbide ? CARBIDE : 1);
  return { most, what: group === undefined ? `${taps} in the softest material` : `${taps} in ${group.name}` };
};

/** A speed with two digits that count. */
const roundedDown = (speed: number): number => {
  const scale = 10 ** Math.max(0, Math.floor(Math.log10(speed)) - 1);
  return Math.floor(speed / scale) * scale;
};

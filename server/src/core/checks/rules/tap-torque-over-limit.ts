import type { Configuration, Material } from '../../machine/configuration.ts';
import { materialGroup } from '../../reference/materials.ts';
import { tapTorqueLimit } from '../../reference/tapTorqueLimits.ts';
import { cuttingForceAtTooth, tapTorque } from '../../reference/threadMeasures.ts';
import { defineRule } from '../support/gradedRule.ts';
import { LineReporter } from '../support/lineWords.ts';
import { shortNumber } from '../support/numbers.ts';
import type { Tap } from '../support/tapInSpindle.ts';
import { holderSource, strokeWords, threadName } from '../support/tapWords.ts';
import { threadWork } from '../support/threadWork.ts';

/** Flutes and turns of lead of a tap that nobody described. */
const FLUTES = 3;
const LEAD_TURNS = 3;

/** A thread that takes more torque than the tap or its holder stands. */
export const tapTorqueOverLimit = defineRule({
  code: 'tap-torque-over-limit',
  severity: 'warning',
  reason: 'Over its limit the holder’s clutch slips and leaves the tap in the hole, or the tap breaks.',
  messages: {
    holder:
      'Tapping {thread} in {material} takes about {torque} N·m (kc {force} N/mm²), and the holder gives {limit} N·m ({source}). Take a stronger holder, or mill the thread.',
    tap: 'Tapping {thread} in {material} takes about {torque} N·m (kc {force} N/mm²), and such a tap stands about {limit} N·m ({source}). Drill wider, or mill the thread.',
  },
  program(facts, report) {
    const { configuration } = facts;
    if (configuration.material === undefined) return;
    const reporter = new LineReporter(facts, report);
    const judged = new Set<Tap>();
    for (const stroke of threadWork(facts).strokes) {
      const { tap, in: pass } = stroke;
      const { thread } = tap ?? {};
      // The formula is one of cutting; a forming tap and a taper thread take more.
      if (tap === undefined || thread === undefined || tap.forming || thread.series === 'npt') continue;
      if (judged.has(tap)) continue;
      judged.add(tap);
      const force = cuttingForce(configuration, tap, thread.pitch);
      const limit = lowestLimit(tap, thread.diameter);
      if (force === undefined || limit === undefined) continue;
      const torque = tapTorque(thread.diameter, thread.pitch, force);
      if (!(torque > limit.torque) || !reporter.isNew(threadName(tap))) continue;
      reporter.tell(limit.message, pass.line, strokeWords(stroke), {
        thread: threadName(tap),
        material: configuration.material.name,
        torque: shortNumber(torque, 1),
        force: Math.round(force),
        limit: limit.torque,
        source: holderSource(tap),
      });
    }
  },
});

/** kc, N/mm²: the shop's kc1.1 brought to the chip that a tooth of the lead takes (kc11·h^−mc), else that of the material's group. */
const cuttingForce = ({ material }: Configuration, { row }: Tap, pitch: number): number | undefined => {
  const { kc11, mc, name }: Material & { readonly name: string } = material ?? { name: '' };
  if (kc11 === undefined) return materialGroup(name)?.tappingForce;
  const teeth = (row?.teeth ?? FLUTES) * Math.max(1, row?.leadTurns ?? LEAD_TURNS);
  return cuttingForceAtTooth(kc11, mc, pitch, teeth);
};

const lowestLimit = ({ holder }: Tap, diameter: number) => {
  const own = tapTorqueLimit(diameter);
  const given = holder?.torque;
  if (given !== undefined && !(own !== undefined && own < given)) return { message: 'holder', torque: given };
  return own === undefined ? undefined : { message: 'tap', torque: own };
};

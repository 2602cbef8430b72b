import { Mode } from '../../machine/modes.ts';
import { readToolRemark } from '../../reference/toolRemark.ts';
import type { RuleContext } from '../rule.ts';
import { defineRule } from '../support/gradedRule.ts';

/** A helix that goes down steeper than the tool may ramp. */
export const helixTooSteep = defineRule({
  code: 'helix-too-steep',
  severity: 'warning',
  reason: 'The middle of the cutter rubs or breaks when it goes down steeper than it can cut.',
  messages: {
    steep:
      'The helix goes down {depth} at {angle}° on the centre path, and tool {tool} may ramp {limit}°. Go down at most {perTurn} a turn, or take a larger circle.',
  },
  arc(context, arc) {
    const down = arc.startThird - arc.endThird;
    if (!(down > 0)) return;
    const tool = context.modes[Mode.tool];
    const row = tool < 0 ? undefined : context.toolRow(tool);
    if (row?.rampLimit === undefined || row.kind === 'thread-mill' || isThreadMill(context)) return;
    const radius = arc.pathRadius;
    // Hardly a circle any more: the radius itself is what is wrong there.
    if (!(radius > 0.01)) return;
    const way = radius * Math.abs(arc.sweep);
    const angle = (Math.atan2(down, way) * 180) / Math.PI;
    if (!(angle > row.rampLimit * (1 + 1e-6))) return;
    const perTurn = (Math.tan((row.rampLimit * Math.PI) / 180) * 2 * Math.PI * radius) / context.unit;
    const scale = context.unit === 1 ? 100 : 10_000;
    const rounded = Math.round(angle * 100) / 100;
    const { block } = context;
    context.report('steep', block.starts[0], block.ends[block.wordCount - 1], {
      depth: down / context.unit,
      // A hair over the limit is not written as the limit.
      angle: rounded > row.rampLimit ? rounded : Math.ceil(angle * 100) / 100,
      tool,
      limit: row.rampLimit,
      perTurn: Math.floor(perTurn * scale + 1e-6) / scale,
    });
  },
});

const isThreadMill = (context: RuleContext): boolean =>
  readToolRemark(context.string(context.modes[Mode.toolRemark]), context.unit !== 1)?.kind === 'thread-mill';

import { Mode } from '../../machine/modes.ts';
import type { ProgramFacts } from '../facts.ts';
import type { Fix, RuleContext } from '../rule.ts';
import { cycleName } from '../support/cycleWords.ts';
import { defineRule } from '../support/gradedRule.ts';
import { LineReporter } from '../support/lineWords.ts';
import { type Tap, tapInSpindle } from '../support/tapInSpindle.ts';
import { callsItself, holderSource } from '../support/tapWords.ts';
import { type TapStroke, threadWork } from '../support/threadWork.ts';
import { findCode, isPlain, numberChanged } from '../support/words.ts';

const REVERSING_CYCLES: readonly number[] = [840, 740];
const PLAIN_CYCLES: readonly number[] = [850, 890];

/** A way to tap that does not suit what holds the tap. */
export const tapCycleWrongForHolder = defineRule({
  code: 'tap-cycle-wrong-for-holder',
  severity: 'error',
  reason: 'Somebody must turn the tap back, and only one of them: the spindle, or the head.',
  messages: {
    'reverses-twice':
      '{cycle} turns the spindle round at the bottom, and the self-reversing head does that by itself ({source}). Feed in and out with the spindle turning one way: by G85, or by hand with an F of its own on the way out.',
    'never-reverses':
      '{cycle} leaves the hole with the spindle turning as it went in, and a {holder} holder does not turn back by itself ({source}). Tap with {right}.',
    'by-hand':
      'This block pulls the tap out at feed with the spindle turning as it went in, and a {holder} holder does not turn back by itself ({source}). Tap with {right}, or turn the spindle round with M{back} before it.',
  },
  cycle(context) {
    const cycle = context.modes[Mode.cycle];
    const reverses = REVERSING_CYCLES.includes(cycle);
    if (!reverses && !PLAIN_CYCLES.includes(cycle)) return;
    const place = findCode(context.block, [cycle]);
    const tap = place < 0 ? undefined : tapInSpindle(context);
    const holder = tap?.holder?.kind;
    if (tap === undefined || holder === undefined || reverses !== (holder === 'reversing')) return;
    const right = rightCycle(tap);
    const { block } = context;
    context.report(
      reverses ? 'reverses-twice' : 'never-reverses',
      block.starts[place],
      block.ends[place],
      { cycle: cycleName(context), source: holderSource(tap), holder: holderName(holder), right },
      reverses ? [] : cycleFix(context, place, right),
    );
  },
  program(facts, report) {
    const reporter = new LineReporter(facts, report);
    for (const stroke of threadWork(facts).strokes) {
      tellCalledElsewhere(facts, stroke, reporter);
      const { tap, cycle, in: passIn, out } = stroke;
      const holder = tap?.holder?.kind;
      if (cycle !== 0 || tap === undefined || holder === undefined || holder === 'reversing' || out === undefined)
        continue;
      const [spindleIn, spindleOut] = [passIn, out].map(({ modes }) => facts.pool.at(modes, Mode.spindle));
      if (!isTurning(spindleIn) || spindleOut !== spindleIn) continue;
      const data = {
        source: holderSource(tap),
        holder: holderName(holder),
        right: rightCycle(tap),
        back: spindleIn === 3 ? 4 : 3,
      };
      reporter.tell('by-hand', out.line, [], data);
    }
  },
});

/** The first hole of a cycle that was called with L0: its block does not name the cycle. */
const tellCalledElsewhere = (facts: ProgramFacts, stroke: TapStroke, reporter: LineReporter): void => {
  const { tap, cycle, isRepeat, in: pass } = stroke;
  const holder = tap?.holder?.kind;
  const reverses = REVERSING_CYCLES.includes(cycle);
  if (tap === undefined || holder === undefined || isRepeat || !(reverses || PLAIN_CYCLES.includes(cycle))) return;
  if (reverses !== (holder === 'reversing') || callsItself(facts, stroke)) return;
  const data = {
    cycle: `G${cycle / 10}`,
    source: holderSource(tap),
    holder: holderName(holder),
    right: rightCycle(tap),
  };
  reporter.tell(reverses ? 'reverses-twice' : 'never-reverses', pass.line, [], data);
};

const isTurning = (spindle: number): boolean => spindle === 3 || spindle === 4;

const rightCycle = ({ hand }: Tap): string => (hand === 'left' ? 'G74' : 'G84');

const holderName = (kind: string): string => (kind === 'float' ? 'floating' : kind);

const cycleFix = (context: RuleContext, place: number, right: string): Fix[] =>
  isPlain(context.block, place)
    ? [context.replace(`Write ${right}`, false, numberChanged(context.block, place, right.slice(1)))]
    : [];

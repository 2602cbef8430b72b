import { tapDrillOf } from '../../reference/tapDrills.ts';
import { cutEngagement, formedEngagement } from '../../reference/threadMeasures.ts';
import type { Thread } from '../../reference/threadName.ts';
import { defineRule } from '../support/gradedRule.ts';
import { LineReporter } from '../support/lineWords.ts';
import { asLength } from '../support/programLengths.ts';
import type { Tap } from '../support/tapInSpindle.ts';
import { threadOpening } from '../support/tappedHole.ts';
import { strokeWords, threadName, unitOfPass } from '../support/tapWords.ts';
import { threadWork } from '../support/threadWork.ts';
import { toolName } from '../support/toolShape.ts';

/** Least and most of the thread's full height, per cent, that a tapped hole has. */
const LEAST = 50;
const MOST = 85;
/** How far a pipe thread's drill may be off the table: share of it, and mm. */
const PIPE_SHARE = 0.02;
const PIPE_MORE = 0.1;

const HOLE = '{thread} ({source}) in the {hole} {lengthUnit} hole of {drill}';

/** A hole that is too wide or too narrow for its thread. */
export const tapDrillSize = defineRule({
  code: 'tap-drill-size',
  severity: 'warning',
  severities: { 'for-forming': 'hint' },
  reason: 'In a hole too narrow a tap jams and breaks; in one too wide the thread does not hold.',
  messages: {
    narrow: `${HOLE} is {percent} % of a full thread, more than ${MOST} %: the tap jams. The usual drill is {usual}.`,
    wide: `${HOLE} is {percent} % of a full thread, less than ${LEAST} %: it does not hold. The usual drill is {usual}.`,
    nothing: `${HOLE} finds nothing to cut: the thread is {major} wide. The usual drill is {usual}.`,
    'for-forming': `${HOLE} is right for a forming tap, and {percent} % of a full thread if the tap cuts. Write FORM TAP in its remark, or take the usual drill, {usual}.`,
    pipe: `${HOLE} does not fit: its drill is {usual}. Take that drill, or another tap.`,
  },
  program(facts, report) {
    const reporter = new LineReporter(facts, report);
    for (const stroke of threadWork(facts).strokes) {
      const { tap } = stroke;
      const opening =
        tap?.thread === undefined || tap.forInsert || !stroke.isPlaceKnown ? undefined : threadOpening(stroke);
      if (tap?.thread === undefined || opening?.diameter === undefined) continue;
      const verdict = judge(tap, tap.thread, opening.diameter);
      if (verdict === undefined || !reporter.isNew(`${threadName(tap)} ${opening.tool.number} ${opening.diameter}`))
        continue;
      const unit = unitOfPass(facts.pool, stroke.in);
      reporter.tell(verdict.message, stroke.in.line, strokeWords(stroke), {
        thread: threadName(tap),
        source: tap.source,
        hole: asLength(opening.diameter, unit),
        lengthUnit: unit === 1 ? 'mm' : 'in',
        drill: toolName(opening.tool),
        percent: Math.round(verdict.percent),
        major: asLength(tap.thread.diameter, unit),
        usual: usualDrill(tap, tap.thread, unit),
      });
    }
  },
});

interface Verdict {
  readonly message: 'narrow' | 'wide' | 'nothing' | 'for-forming' | 'pipe';
  readonly percent: number;
}

const judge = (tap: Tap, thread: Thread, hole: number): Verdict | undefined => {
  if (thread.series === 'pipe-g' || thread.series === 'npt') {
    const usual = tapDrillOf(thread)?.diameter;
    const fits = usual === undefined || Math.abs(hole - usual) <= usual * PIPE_SHARE + PIPE_MORE;
    return fits ? undefined : { message: 'pipe', percent: 0 };
  }
  const cut = cutEngagement(thread.diameter, hole, thread.pitch);
  const formed = formedEngagement(thread.diameter, hole, thread.pitch);
  const percent = tap.forming ? formed : cut;
  if (hole >= thread.diameter - 1e-6) return { message: 'nothing', percent };
  if (percent > MOST) return { message: 'narrow', percent };
  if (percent >= LEAST) return undefined;
  const isForForming = !tap.forming && tap.row?.forming === undefined && formed >= LEAST && formed <= MOST;
  return { message: isForForming ? 'for-forming' : 'wide', percent };
};

const usualDrill = (tap: Tap, thread: Thread, unit: number): string => {
  const drill = tapDrillOf(thread, tap.forming);
  if (drill === undefined) return `${asLength(thread.diameter - thread.pitch, unit)} (diameter less pitch)`;
  const size = asLength(drill.diameter, unit);
  return drill.name === undefined ? size : `${drill.name} (${size})`;
};

import { defineRule } from '../support/gradedRule.ts';
import { LineReporter } from '../support/lineWords.ts';
import { asLength } from '../support/programLengths.ts';
import type { Opening } from '../support/shafts.ts';
import { isBored } from '../support/tappedHole.ts';
import { strokeWords, threadName, unitOfPass } from '../support/tapWords.ts';
import { type TapStroke, threadWork } from '../support/threadWork.ts';

/** A thread that is tapped where nothing was drilled, in a program that drills its others. */
export const tapWithoutHole = defineRule({
  code: 'tap-without-hole',
  severity: 'warning',
  reason: 'A tap that comes to solid material breaks.',
  messages: {
    missing:
      'Nothing was drilled at X{x} Y{y} before {thread} is tapped there, and {count} of the program’s threads have their holes. Drill it, or correct the place.',
    spotted:
      'X{x} Y{y} was only spotted before {thread} is tapped there, and {count} of the program’s threads have their holes. Drill it, or correct the place.',
    later: 'The hole at X{x} Y{y} is drilled in line {line}, and {thread} is tapped there before that. Drill first.',
    tool: 'No hole of {thread} was drilled before it is tapped, and {count} of the program’s other threads have their holes. Drill them, or look whether they are there from before.',
  },
  program(facts, report) {
    const { strokes, isWhole } = threadWork(facts);
    const bored = strokes.filter(isBored);
    if (!isWhole || bored.length === 0 || bored.length === strokes.length) return;
    const reporter = new LineReporter(facts, report);
    const boredTaps = new Set(bored.map(({ tap }) => tap));
    for (const stroke of strokes) {
      if (!stroke.isPlaceKnown || isBored(stroke) || mayBeMilled(stroke)) continue;
      const message = messageFor(stroke, boredTaps.has(stroke.tap));
      if (message === 'tool' && !reporter.isNew(`tap ${threadName(stroke.tap)}`)) continue;
      const unit = unitOfPass(facts.pool, stroke.in);
      const later = laterOpening(stroke);
      reporter.tell(message, stroke.in.line, strokeWords(stroke), {
        x: asLength(stroke.place.x, unit),
        y: asLength(stroke.place.y, unit),
        thread: threadName(stroke.tap),
        count: bored.length,
        line: (later?.line ?? 0) + 1,
      });
    }
  },
});

/** True where a cutter of unknown diameter went round there before: the hole may be its work. */
const mayBeMilled = ({ openings }: TapStroke): boolean =>
  openings.some(({ way, diameter }) => way === 'round' && diameter === undefined);

/** What makes the hole after the tap came. */
const laterOpening = ({ allOpenings, openings }: TapStroke): Opening | undefined =>
  allOpenings.find((opening) => opening.way !== 'mouth' && !openings.includes(opening));

const messageFor = (stroke: TapStroke, hasOthers: boolean): string => {
  if (laterOpening(stroke) !== undefined) return 'later';
  if (!hasOthers) return 'tool';
  return stroke.openings.length > 0 ? 'spotted' : 'missing';
};

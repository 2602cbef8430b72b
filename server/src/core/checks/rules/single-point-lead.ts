import { Mode } from '../../machine/modes.ts';
import { MoveFlag } from '../../machine/moves.ts';
import { findThread, parseThread, type Thread } from '../../reference/threadName.ts';
import type { Passage, ProgramFacts } from '../facts.ts';
import { defineRule } from '../support/gradedRule.ts';
import { LineReporter } from '../support/lineWords.ts';
import { placesOf, shortNumber } from '../support/numbers.ts';
import { perSegment } from '../support/pathWalk.ts';
import { unitOf } from '../support/programLengths.ts';
import { tapUnder } from '../support/tapInSpindle.ts';

/** G33 with a lead that is not the thread's, or that the machine does not follow. */
export const singlePointLead = defineRule({
  code: 'single-point-lead',
  severity: 'warning',
  reason: 'G33 cuts the lead that is written, and the screw that comes later has another.',
  messages: {
    'not-the-pitch':
      'G33 cuts a lead of {lead} {lengthUnit}, and {thread} has {expected} ({source}). Write {letter}{right}, or {otherwise}.',
    'over-top-feed':
      'G33 with a lead of {lead} {lengthUnit} at S{speed} needs a feed of {feed}, and the machine’s highest is {top}. Write S{right} or less.',
  },
  program(facts, report) {
    const reporter = new LineReporter(facts, report);
    if (!mayCutThreads(facts)) return;
    for (const passage of facts.passages()) {
      for (const { line, modes } of threadMoves(passage.segment, facts))
        judge(facts, reporter, passage.firstLine + line, modes);
    }
  },
});

const looked = new WeakMap<ProgramFacts['pool'], { count: number; found: boolean }>();

/** False where no set of modes of the program is one of G33. */
const mayCutThreads = ({ pool }: ProgramFacts): boolean => {
  const before = looked.get(pool) ?? { count: 0, found: false };
  looked.set(pool, before);
  for (; before.count < pool.count && !before.found; before.count++) {
    before.found = pool.at(before.count, Mode.motion) === 330;
  }
  return before.found;
};

/** Moves of G33, one for each line and set of modes. */
const threadMoves = perSegment(({ moves }: Passage['segment']) => {
  const found: { readonly line: number; readonly modes: number }[] = [];
  for (let move = 0; move < moves.count; move++) {
    if ((moves.kinds[move] & (MoveFlag.synchronised | MoveFlag.cycle)) !== MoveFlag.synchronised) continue;
    const [line, modes] = [moves.lines[move], moves.modes[move]];
    const last = found[found.length - 1];
    if (last?.line !== line || last.modes !== modes) found.push({ line, modes });
  }
  return found;
});

const judge = (facts: ProgramFacts, reporter: LineReporter, line: number, modes: number): void => {
  const { pool, configuration, profile } = facts;
  const lead = pool.at(modes, Mode.threadLead);
  if (!(lead > 0)) return;
  const unit = unitOf(pool, modes);
  const data = { lead: lead / unit, lengthUnit: unit === 1 ? 'mm' : 'in', letter: profile.leadWord };
  const known = knownThread(facts, modes);
  if (known !== undefined) {
    const expected = known.thread.pitch * known.starts;
    const rounding = (0.5 * 10 ** -Math.max(placesOf(lead / unit), 2) + 1e-9) * unit;
    if (Math.abs(lead - expected) > rounding && reporter.isNew(`lead ${known.thread.name} ${lead}`)) {
      reporter.tell('not-the-pitch', line, [profile.leadWord, 'G33'], {
        ...data,
        thread: known.starts === 1 ? known.thread.name : `${known.thread.name} with ${known.starts} starts`,
        expected: expected / unit,
        right: shortNumber(expected / unit, unit === 1 ? 4 : 5),
        source: known.source,
        otherwise: otherwise(lead / expected, known),
      });
    }
  }
  const [speed, top] = [pool.at(modes, Mode.speed), configuration.machine?.topFeed];
  if (top === undefined || pool.at(modes, Mode.speedMode) !== 97 || !(lead * speed > top + 1e-6)) return;
  if (!reporter.isNew(`feed ${lead} ${speed}`)) return;
  reporter.tell('over-top-feed', line, [profile.leadWord, 'G33'], {
    ...data,
    speed,
    feed: shortNumber((lead * speed) / unit, 1),
    top: shortNumber(top / unit, 1),
    right: Math.floor(top / lead),
  });
};

/** What else may be wrong: a remark without its starts where the lead is a multiple of what is expected, else the thread. */
const otherwise = (multiple: number, { starts, source }: NonNullable<ReturnType<typeof knownThread>>): string => {
  const whole = Math.round(multiple);
  if (starts === 1 && whole >= 2 && Math.abs(multiple - whole) < 0.001) {
    return `write ${whole} START in the remark if it has ${whole} starts`;
  }
  return `correct the thread in the ${source.startsWith('remark') ? 'remark' : 'tool table'}`;
};

/** The thread that is cut: as the tool table, the tool's remark or the operation's says. */
const knownThread = (facts: ProgramFacts, modes: number) => {
  const tap = tapUnder(facts, modes);
  if (tap?.thread !== undefined) return { thread: tap.thread, starts: 1, source: tap.source };
  const { pool, configuration } = facts;
  const number = pool.at(modes, Mode.tool);
  const row = configuration.tools.find((candidate) => candidate.number === number);
  const thread = row?.thread === undefined ? undefined : parseThread(row.thread);
  if (thread !== undefined) return { thread, starts: 1, source: `tool ${number} in the tool table` };
  for (const field of [Mode.toolRemark, Mode.operationRemark]) {
    const remark = pool.string(pool.at(modes, field)).trim();
    const thread = remark === '' ? undefined : threadIn(remark);
    if (thread !== undefined) return { thread, starts: startsIn(remark), source: `remark ${remark}` };
  }
  return undefined;
};

/** A thread that a remark names with its pitch, or beside a word for threads: M6 alone is a tool change. */
const threadIn = (remark: string): Thread | undefined => {
  const speaks = /THREAD|THRD|THD|GEWINDE|FILET|ROSCA|\d ?X ?[\d.]|\d"? ?- ?\d|UN[CFS]|NPT/i.test(remark);
  return speaks ? findThread(remark) : undefined;
};

/** How many starts a remark says: "2 START", "DOUBLE START". */
const startsIn = (remark: string): number => {
  const match = /(\d)[ -]*(?:START|LEAD|GANG)|(DOUBLE|TWIN|TWO)[ -]*START|(TRIPLE|THREE)[ -]*START/i.exec(remark);
  if (match === null) return 1;
  return match[1] !== undefined ? Math.max(1, Number(match[1])) : match[2] !== undefined ? 2 : 3;
};

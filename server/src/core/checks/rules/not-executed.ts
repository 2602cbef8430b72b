import { FactKind, type ProgramFacts, type ProgramReport } from '../facts.ts';
import { endingOf, lineRange, wordsOf } from '../support/calledPrograms.ts';
import { defineRule } from '../support/gradedRule.ts';
import { endlessLoopOf, valuesText } from '../support/loopStops.ts';

/** Kinds of things that are told once a program, with their message. */
const ONCE = ['radius-unknown', 'probe'];
/** Kinds that are told at each place. */
const EACH = [
  'condition',
  'then-condition',
  'alarm-condition',
  'alarm-passed',
  'loop-condition',
  'jump-number',
  'call-number',
];

/** What the path leaves out, and where it ends before the program does. */
export const notExecuted = defineRule({
  code: 'not-executed',
  severity: 'hint',
  severities: {
    limit: 'warning',
    'cut-off': 'warning',
    'cut-off-in-loop': 'warning',
    alarm: 'warning',
    'alarm-text': 'warning',
  },
  reason: 'What is not executed here is missing from the path and from the checks.',
  messages: {
    'radius-unknown':
      'The cutter’s radius for G41 or G42 is not known here, so the path is the programmed one and nothing is checked on it. Give the diameter in the tool table of blockwright.json, or in the remark of the tool change.',
    probe:
      'The path shows probing moves up to their end point, as where the probe touches is not known here. Nothing needs to be changed for that.',
    condition:
      'This condition depends on a value that is not known here, such as one of the machine’s own: path and checks go on as if it were not fulfilled. Look yourself at what happens where it is.',
    'then-condition':
      'This condition depends on a value that is not known here, such as one of the machine’s own: the variable behind THEN counts as not known from here on. Look yourself at what it leads to.',
    'alarm-condition':
      'Whether the program raises its alarm here depends on a value that is not known here, such as one of the machine’s own: path and checks go on without it. Look yourself at what leads here.',
    'alarm-passed':
      'Whether the run comes to this alarm depends on a value that is not known here: path and checks go on behind it. Look yourself at what leads here.',
    'loop-condition':
      'This condition depends on a value that is not known here, such as one of the machine’s own: path and checks go through the loop once. Look yourself at what further passes do.',
    'jump-number':
      'This jump’s number depends on a value that is not known here, such as one of the machine’s own: path and checks go straight on. Look yourself at what happens where it leads.',
    'call-number':
      'The called program’s number depends on a value that is not known here, such as one of the machine’s own: path and checks leave the call out. Look yourself at what it does.',
    limit:
      'The path has more than {moves} moves and ends here; what follows is neither executed nor checked. Split the program, or raise limits.moves in blockwright.json.',
    'cut-off':
      'The run is cut off here after {limit}; what follows is neither executed nor checked. Split the program, or raise {setting} in blockwright.json.',
    'cut-off-in-loop':
      'The run is cut off here after {limit}, in pass {passes} of the loop of line {line}{values}; what follows is neither executed nor checked. Shorten the loop, or raise {setting} in blockwright.json.',
    alarm: 'The program raises its own alarm {number} here and stops: path and checks end here.',
    'alarm-text': 'The program raises its own alarm {number} ({text}) here and stops: path and checks end here.',
    loading: 'O{number} is still being read: path and checks go on when it is there.',
    rounds:
      'The program goes round from here for ever, with a stop in each round: path and checks end after {passes} rounds.',
    other: '{kind} is not executed yet: path and checks leave it out. Prove this part on the machine.',
  },
  program(facts, report) {
    if (facts.cutOffLine >= 0) {
      const column = facts.lineText(facts.cutOffLine).length;
      report('limit', facts.cutOffLine, 0, column, { moves: facts.configuration.limits.moves });
    }
    tellStop(facts, report);
    const told = new Set<string>();
    for (const { text, line, column, endColumn } of facts.of(FactKind.notExecuted)) {
      const isEach = EACH.includes(text);
      const key = isEach ? `${text} ${line} ${column}` : text;
      if (told.has(key)) continue;
      told.add(key);
      if (isEach || ONCE.includes(text)) report(text, line, column, endColumn);
      else report('other', line, column, endColumn, { kind: text.replace(/^code /, '') });
    }
  },
});

/** True in a program that ends with M99, changes no tool, selects no offset and is not called here. */
const isCalledFromElsewhere = (facts: ProgramFacts, line: number): boolean => {
  const unit = facts.layout.unitOf(line);
  if (!endingOf(facts, unit).returns || facts.of(FactKind.callTarget).some(({ a }) => a === unit.number)) return false;
  for (let at = unit.firstLine; at < unit.endLine; at++) {
    if (/M0*6(?!\d)|G5[4-9]/.test(wordsOf(facts.lineText(at)))) return false;
  }
  return true;
};

/** Why the run ended before the program did; other rules tell of calls too deep, missing returns and endless loops. */
const tellStop = (facts: ProgramFacts, report: ProgramReport): void => {
  const { stop } = facts;
  if (stop === undefined) return;
  const [column, endColumn] = lineRange(facts, stop.line);
  const tell = (message: string, data: Record<string, string | number>): void =>
    report(message, stop.line, column, endColumn, data);
  const endless = endlessLoopOf(facts);
  const number = stop.number ?? 0;
  if (endless?.stops) {
    const [from, to] = lineRange(facts, endless.line);
    report('rounds', endless.line, from, to, { passes: endless.passes });
  } else if (stop.kind === 'alarm') {
    // Without its caller's values a subprogram's own checks say nothing.
    if (isCalledFromElsewhere(facts, stop.line)) return;
    const { text = '' } = stop;
    tell(text === '' ? 'alarm' : 'alarm-text', { number, text });
  } else if (stop.kind === 'loading') tell('loading', { number });
  else if ((stop.kind === 'steps' || stop.kind === 'moves' || stop.kind === 'seconds') && endless === undefined) {
    const limit = limitText(facts, stop.kind);
    const { loop } = stop;
    const values = loop === undefined || loop.values.length === 0 ? '' : ` with ${valuesText(loop.values)}`;
    const data = {
      limit,
      setting: `limits.${stop.kind}`,
      passes: loop?.passes ?? 0,
      line: (loop?.line ?? 0) + 1,
      values,
    };
    tell(loop === undefined ? 'cut-off' : 'cut-off-in-loop', data);
  }
};

const limitText = ({ configuration: { limits } }: ProgramFacts, kind: 'steps' | 'moves' | 'seconds'): string =>
  kind === 'steps'
    ? `${limits.steps} blocks`
    : kind === 'moves'
      ? `${limits.moves} moves`
      : `${limits.seconds} s of computing`;

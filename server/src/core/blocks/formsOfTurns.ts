/** Turns of a helix as a program holds them: each turn in a block, one block that counts its turns, or a loop. */
import { type BlockWriter, formatLength, roundLength } from './blockWriter.ts';
import { choice } from './commonParameters.ts';
import type { Place } from './parameter.ts';
import type { BlockPlan } from './plan.ts';
import type { Values } from './values.ts';

/** How turns are written. */
export type TurnForm = 'turns' | 'multi-turn' | 'loop';

export const FORM = choice(
  'form',
  'Form',
  'How the turns are written: a block for each, one block that counts them, or a loop. Not every control takes all three.',
  [
    ['turns', 'A block for each turn'],
    ['multi-turn', 'One block with the number of turns'],
    ['loop', 'A loop'],
  ],
);

/** More blocks than this are nothing to read or to keep in a program. */
const MOST_BLOCKS = 5000;
/** Executing a block before it is offered takes time with every turn. */
const MOST_TURNS = 20_000;

/** The form asked for; a problem where the control does not take it or the turns are too many for it. */
export const turnFormOf = (values: Values, plan: BlockPlan, turns: number): TurnForm => {
  const form = values.text('form') as TurnForm;
  const { profile } = plan.context.configuration;
  const canCount = profile.turns.letter !== 'none';
  const canLoop = profile.flow && plan.context.freeVariables.length > 0;
  const others = [
    canCount ? 'one block with the number of turns (multi-turn)' : '',
    canLoop ? 'a loop' : '',
    'a larger lead',
  ];
  const instead = others.filter((other) => other !== '').join(', or ');
  if (form === 'multi-turn' && !canCount) {
    plan.problem(
      'form',
      'This control has no word for several turns in one block. Take a block for each turn (turns) instead.',
    );
  } else if (form === 'loop' && !profile.flow) {
    plan.problem('form', 'This control has no loops. Take a block for each turn (turns) instead.');
  } else if (form === 'loop' && !canLoop) {
    plan.problem(
      'form',
      'The program uses all variables from #100 to #149, and a loop needs one of them. Take a block for each turn (turns) instead.',
    );
  } else if (form === 'turns' && turns > MOST_BLOCKS) {
    plan.problem(
      'form',
      `${turns} turns would be as many blocks; ${MOST_BLOCKS} are the most that are written. Take ${instead}.`,
    );
  } else if (turns > MOST_TURNS) {
    plan.problem(
      'form',
      `${turns} turns are more than the ${MOST_TURNS} that are tried out before a block is offered. Take a larger lead.`,
    );
  }
  return form;
};

/** A helix of whole turns that begins and ends at one place over or beside its centre. Lengths mm, feed mm/min. */
export interface Turns {
  readonly centre: Place;
  readonly start: Place;
  readonly clockwise: boolean;
  /** Of the cutter's centre. */
  readonly feed: number;
  /** Z at its beginning and at its end. */
  readonly from: number;
  readonly to: number;
  readonly count: number;
}

/** Writes the turns of a helix from where the tool stands. */
export const writeTurns = (writer: BlockWriter, form: TurnForm, turns: Turns): void => {
  const { from, to, count } = turns;
  if (form === 'multi-turn') {
    writeTurn(writer, turns, [['Z', to], ...turnsWord(writer, count)]);
  } else if (form === 'loop' && count > 1) {
    writeLoop(writer, turns);
  } else {
    for (let turn = 1; turn <= count; turn++) writeTurn(writer, turns, [['Z', from + ((to - from) * turn) / count]]);
  }
};

/** Writes level turns where the tool stands. */
export const writeLevelTurns = (writer: BlockWriter, form: TurnForm, turns: Omit<Turns, 'from' | 'to'>): void => {
  if (form === 'multi-turn') {
    writeTurn(writer, turns, turnsWord(writer, turns.count));
    return;
  }
  for (let turn = 0; turn < turns.count; turn++) writeTurn(writer, turns, []);
};

type Words = Parameters<BlockWriter['arc']>[5];

const writeTurn = (
  writer: BlockWriter,
  { clockwise, start, centre, feed }: Omit<Turns, 'from' | 'to'>,
  more: Words,
): void => writer.arc(clockwise, start, start, centre, feed, more);

/** The word that counts turns: all of them, or those that come to the one that every arc makes; none for one turn. */
const turnsWord = (writer: BlockWriter, count: number): [string, number][] => {
  const { letter, counts } = writer.profile.turns;
  const number = counts === 'extra' ? count - 1 : count;
  return count > 1 ? [[letter, number]] : [];
};

/**
 * DO3, so that the block can also stand inside a loop of the program that has 1 or 2: controls that know these loops take
 * three inside one another (common practice, no source). Each level is computed from the first, so that no rounding adds up.
 */
const writeLoop = (writer: BlockWriter, turns: Turns): void => {
  const { count } = turns;
  const counter = `#${writer.context.freeVariables[0]}`;
  const [from, to] = [roundLength(turns.from, writer.inch), roundLength(turns.to, writer.inch)];
  const length = (value: number): string => formatLength(value / (writer.inch ? 25.4 : 1), writer.inch);
  writer.block(`${counter}=1`);
  writer.block(`WHILE [${counter} LE ${count}] DO3`);
  writeTurn(writer, turns, [`Z[${length(from)}-${counter}*${length(from - to)}/${count}]`]);
  writer.block(`${counter}=${counter}+1`);
  writer.block('END3');
};

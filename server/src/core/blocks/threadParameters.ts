/** The thread and its hand, as tapping and thread milling take them. */
import type { Thread } from '../reference/threadName.ts';
import { choice } from './commonParameters.ts';
import type { Parameter } from './parameter.ts';
import type { BlockPlan } from './plan.ts';
import type { Values } from './values.ts';

export const THREAD: Parameter = {
  kind: 'thread',
  name: 'thread',
  label: 'Thread',
  help: 'M10, M10X1.25, 1/4-20 UNC, G1/4, or diameter x pitch in mm such as 21x1.5; LH behind it is left-hand.',
  needed: true,
  group: 'Thread',
};

export const HAND: Parameter = {
  ...choice('hand', 'Hand', 'Right-hand or left-hand thread. Left out: as the thread’s name says.', [
    ['right', 'Right'],
    ['left', 'Left'],
  ]),
  group: 'Thread',
};

/** Blind, or through the work. */
export const HOLE: Parameter = {
  ...choice('hole', 'Hole', 'Blind, or through the work.', [
    ['blind', 'Blind'],
    ['through', 'Through'],
  ]),
  group: 'Thread',
};

/** Hand of the thread: as given, else as its name says; a problem where both speak and do not agree. */
export const handOf = (values: Values, plan: BlockPlan, thread: Thread, prefix = ''): 'right' | 'left' => {
  if (!values.isGiven('hand') && thread.hand === 'left') return 'left';
  const hand = values.text('hand') === 'left' ? 'left' : 'right';
  if (hand === 'right' && thread.hand === 'left') {
    plan.problem(
      `${prefix}hand`,
      `${thread.name} LH is a left-hand thread, and the hand given is right. Take LH out, or set the hand to left.`,
    );
  }
  return hand;
};

/** The state of compensation between two moves as plain numbers, so that states can be kept and compared. */
import type { Pending, StandingMove } from './compensator.ts';
import { createElement, type Side } from './element.ts';

/** What compensation holds between two moves. */
interface OpenState {
  first: number;
  second: number;
  third: number;
  isAside: boolean;
  pending: Pending | undefined;
  readonly standing: StandingMove[];
}

/** The same numbers with the lines of waiting moves moved by `shift`. */
export const shiftOpenMoves = (numbers: Float64Array, shift: number): Float64Array => {
  if (numbers.length <= 3 || shift === 0) return numbers;
  const state: OpenState = { first: 0, second: 0, third: 0, isAside: false, pending: undefined, standing: [] };
  readOpenMoves(state, numbers);
  return writeOpenMoves(state, shift);
};

/**
 * Empty where nothing is open. Else: centre (3), side or 0 with nothing pending, lead (1) or short (2) or neither (0), radius at start and end,
 * cut-off; with something pending the move (18 numbers) with its further axes, and the standing moves (6 numbers each)
 * with theirs. Lines are moved by `lineShift`.
 */
export const writeOpenMoves = (state: OpenState, lineShift: number): Float64Array => {
  const { pending } = state;
  if (pending === undefined && !state.isAside) return new Float64Array(0);
  const numbers = [state.first, state.second, state.third];
  if (pending === undefined) return Float64Array.from(numbers);
  const { element } = pending;
  const { move } = element;
  numbers.push(
    element.side,
    pending.isLead ? 1 : pending.isShort ? 2 : 0,
    element.startRadius,
    element.endRadius,
    pending.behind,
  );
  numbers.push(move.source.line + lineShift, move.source.kind, move.source.modes);
  numbers.push(move.isRapid ? 1 : 0, move.isArc ? 1 : 0);
  numbers.push(move.startFirst, move.startSecond, move.startThird, move.endFirst, move.endSecond, move.endThird);
  numbers.push(move.centreFirst, move.centreSecond, move.radius, move.endRadius, move.sweep);
  numbers.push(move.others.length, ...move.others);
  for (const { source, third, extra, others } of state.standing) {
    numbers.push(source.line + lineShift, source.kind, source.modes, third, extra, others.length, ...others);
  }
  return Float64Array.from(numbers, (value) => value + 0);
};

/** Takes back what `writeOpenMoves` gave. */
export const readOpenMoves = (state: OpenState, numbers: Float64Array): void => {
  let place = 0;
  const next = (): number => numbers[place++];
  const several = (): number[] => Array.from({ length: next() }, next);
  state.standing.length = 0;
  state.pending = undefined;
  state.isAside = numbers.length === 3;
  if (numbers.length === 0) return;
  state.first = next();
  state.second = next();
  state.third = next();
  if (state.isAside) return;
  const side: Side = next() > 0 ? 1 : -1;
  const role = next();
  const startRadius = next();
  const endRadius = next();
  const behind = next();
  const move = {
    source: { line: next(), kind: next(), modes: next() },
    isRapid: next() === 1,
    isArc: next() === 1,
    startFirst: next(),
    startSecond: next(),
    startThird: next(),
    endFirst: next(),
    endSecond: next(),
    endThird: next(),
    centreFirst: next(),
    centreSecond: next(),
    radius: next(),
    endRadius: next(),
    sweep: next(),
    others: several(),
  };
  state.pending = {
    element: createElement(move, side, startRadius, endRadius),
    isLead: role === 1,
    behind,
    isShort: role === 2,
  };
  while (place < numbers.length) {
    const standing: StandingMove = {
      source: { line: next(), kind: next(), modes: next() },
      third: next(),
      extra: next(),
      others: several(),
    };
    state.standing.push(standing);
  }
};

/**
 * Numbered variables that hold the machine's own values: positions, work offsets, tool lengths, modes in force. Which
 * number holds what is a field of the control profile: the public report's parameters (NIST IR 6556, from memory), or
 * those of macro controls (common practice, no source). Lengths come in the program's units.
 */
import { shiftOf } from './coordinates.ts';
import type { Executor } from './executor.ts';
import { configuredLength, machineCoordinate } from './machinePosition.ts';
import { Mode } from './modes.ts';
import { offsetValue } from './references.ts';

/** What a number holds, in words for a person; undefined where it is not known here. */
interface SystemVariable {
  readonly meaning: string;
  /** The value now; NaN where only the machine knows it. */
  value(executor: Executor): number;
}

const LETTERS = 'XYZABCUVW';
const REPORT_OFFSETS = [540, 550, 560, 570, 580, 590, 591, 592, 593];

const known = (meaning: string, value: SystemVariable['value']): SystemVariable => ({ meaning, value });
const machineOnly = (meaning: string): SystemVariable => known(meaning, () => Number.NaN);

const lengthIn = (executor: Executor, axis: number, millimetres: number): number =>
  axis >= 3 && axis <= 5 ? millimetres : millimetres / executor.unit;

const workPosition = (axis: number) => (executor: Executor) =>
  lengthIn(executor, axis, executor.position[axis] - shiftOf(executor.modes, axis));

const machinePosition = (axis: number) => (executor: Executor) =>
  lengthIn(
    executor,
    axis,
    machineCoordinate((field) => executor.modes[field], axis, executor.position[axis]),
  );

const workZero = (offset: number, axis: number): SystemVariable =>
  known(`work offset G${offset / 10}, ${LETTERS[axis]}`, (executor) =>
    lengthIn(executor, axis, offsetValue(executor, offset, axis)),
  );

const mode = (meaning: string, field: number, factor = 1): SystemVariable =>
  known(meaning, ({ modes }) => (modes[field] < 0 ? Number.NaN : modes[field] / factor));

/** Modes by number: the hundred is 4000, the rest the group's or the letter's. */
const MODES: Readonly<Record<number, SystemVariable>> = {
  4001: mode('motion code in force', Mode.motion, 10),
  4002: mode('plane in force', Mode.plane),
  4003: mode('G90 or G91 in force', Mode.distance),
  4005: mode('feed mode in force', Mode.feedMode),
  4006: mode('G20 or G21 in force', Mode.units),
  4007: mode('radius compensation in force', Mode.radiusCompensation),
  4008: mode('length compensation in force', Mode.lengthCompensation),
  4009: known('cycle in force', ({ modes }) => (modes[Mode.cycle] === 0 ? 80 : modes[Mode.cycle] / 10)),
  4010: mode('G98 or G99 in force', Mode.retract),
  4014: mode('work offset in force', Mode.offset, 10),
  4107: mode('D in force', Mode.radiusRegister),
  4109: known('F in force', ({ modes, unit }) =>
    modes[Mode.feed] < 0 ? Number.NaN : modes[Mode.feed] / (modes[Mode.feedMode] === 93 ? 1 : unit),
  ),
  4111: mode('H in force', Mode.lengthRegister),
  4119: mode('S in force', Mode.speed),
  4120: mode('T in force', Mode.toolCalled),
};

const macroVariable = (number: number): SystemVariable | undefined => {
  if (MODES[number] !== undefined) return MODES[number];
  const axis = (number % 20) - 1;
  const letter = LETTERS[axis];
  if (number >= 5001 && number <= 5009) return known(`end point of the block before, ${letter}`, workPosition(axis));
  if (number >= 5021 && number <= 5029) return known(`machine position, ${letter}`, machinePosition(axis));
  if (number >= 5041 && number <= 5049) return known(`position now, ${letter}`, workPosition(axis));
  if (number >= 5061 && number <= 5069) return machineOnly(`where the probe touched, ${letter}`);
  if (number >= 5201 && number <= 5209) return machineOnly(`shift of all work offsets, ${letter}`);
  if (number >= 5221 && number <= 5329 && axis >= 0 && axis < 9) {
    return workZero(540 + 10 * Math.floor((number - 5221) / 20), axis);
  }
  if (number >= 2001 && number <= 2200) {
    return known(`tool length in register H${number - 2000}`, (executor) =>
      lengthIn(executor, 2, configuredLength(executor.configuration, number - 2000)),
    );
  }
  if (number === 3000) return machineOnly('alarm: a value given to it stops the machine');
  if (number === 3006) return machineOnly('stop with a message: a value given to it stops like M0');
  if (number === 3001 || number === 3002) return machineOnly('the control’s clock');
  if (number === 3011 || number === 3012) return machineOnly('date or time of day');
  return undefined;
};

const reportVariable = (number: number): SystemVariable | undefined => {
  const axis = (number % 20) - 1;
  if (number >= 5161 && number <= 5166) return machineOnly(`reference point of G28, ${LETTERS[number - 5161]}`);
  if (number >= 5181 && number <= 5186) return machineOnly(`reference point of G30, ${LETTERS[number - 5181]}`);
  if (number >= 5211 && number <= 5216) {
    const field = Mode.presetShift + number - 5211;
    return known(`shift of G92, ${LETTERS[number - 5211]}`, (executor) =>
      lengthIn(executor, number - 5211, executor.modes[field]),
    );
  }
  if (number === 5220) {
    return known('number of the work offset in force', ({ modes }) => REPORT_OFFSETS.indexOf(modes[Mode.offset]) + 1);
  }
  if (number >= 5221 && number <= 5386 && axis >= 0 && axis < 6) {
    return workZero(REPORT_OFFSETS[Math.floor((number - 5221) / 20)], axis);
  }
  return undefined;
};

/** What a variable of the control's own holds; undefined where nothing is known of its number. */
export const systemVariable = (number: number, kind: 'report' | 'macro'): SystemVariable | undefined =>
  number < 1000 ? undefined : kind === 'macro' ? macroVariable(number) : reportVariable(number);

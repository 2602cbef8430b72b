/** The machine behind a block at a glance: modes as they are written, and where the tool stands. */
import type { Analysis, MachineState } from '../checks/analysis.ts';
import { offsetName } from '../machine/machinePosition.ts';
import { Mode } from '../machine/modes.ts';
import { duration, shortNumber } from './hoverPlace.ts';
import type { ProgramTime } from './statusTime.ts';

/** One line of words each, for a narrow place. */
export interface StatusAt {
  /** `G1 G90 G54 T3 S2400 F300 · X10. Y20. Z-5.` */
  readonly text: string;
  /** `12 min 30 s`; empty where nothing takes any time. */
  readonly time: string;
  /** The same in sentences. */
  readonly sentences: readonly string[];
}

/** Units of a state: mm a unit, and the sign. */
const unitOf = ({ modes }: MachineState): { readonly size: number; readonly name: string } =>
  modes[Mode.units] === 20 ? { size: 25.4, name: 'in' } : { size: 1, name: 'mm' };

/** What holds behind a line. The analysis must be up to date. */
export function statusAt(analysis: Analysis, line: number, time: ProgramTime): StatusAt {
  const state = analysis.stateAfter(line);
  const isReached = analysis.isReached(line);
  const text = isReached ? `${modeWords(state).join(' ')} · ${positionWords(state)}` : 'not reached by the run';
  return { text, time: time.seconds > 0 ? duration(time.seconds) : '', sentences: timeSentences(time, line) };
}

/** G and M codes in force, tool, speed and feed as a machinist writes them; what is as usual is left out. */
function modeWords(state: MachineState): string[] {
  const { modes } = state;
  const code = (value: number): string => `G${shortNumber(value / 10, 1)}`;
  const cycle = modes[Mode.cycle];
  const motion = modes[Mode.motion];
  const words = [
    cycle > 0 ? code(cycle) : motion >= 0 ? code(motion) : '',
    modes[Mode.plane] === 17 ? '' : `G${modes[Mode.plane]}`,
    modes[Mode.units] === 20 ? 'G20' : '',
    `G${modes[Mode.distance]}`,
    modes[Mode.feedMode] === 94 ? '' : `G${modes[Mode.feedMode]}`,
    modes[Mode.radiusCompensation] === 40 ? '' : `G${modes[Mode.radiusCompensation]}`,
    modes[Mode.scaling] === 1 ? 'G51' : '',
    modes[Mode.rotation] === 1 ? 'G68' : '',
    modes[Mode.polar] === 1 ? 'G16' : '',
    offsetName(modes[Mode.offset]),
    modes[Mode.tool] >= 0 ? `T${modes[Mode.tool]}` : '',
    spindleWords(modes),
    modes[Mode.feed] > 0 ? `F${feedNumber(state)}` : '',
  ];
  return words.filter((word) => word !== '');
}

/** The speed while the spindle turns, else that it does not. */
function spindleWords(modes: Float64Array): string {
  const spindle = modes[Mode.spindle];
  if (spindle !== 3 && spindle !== 4) return 'M5';
  const surface = modes[Mode.speedMode] === 96 ? 'G96 ' : '';
  const speed = modes[Mode.speed] > 0 ? `S${shortNumber(modes[Mode.speed], 1)}` : 'S?';
  return `${surface}${speed}${spindle === 4 ? ' M4' : ''}`;
}

/** F in the program's units; one over the time has none. */
function feedNumber(state: MachineState): string {
  const size = state.modes[Mode.feedMode] === 93 ? 1 : unitOf(state).size;
  return shortNumber(state.modes[Mode.feed] / size, 4);
}

/** `X10. Y20.5 Z-5.`, further axes where they are known; `?` for a place that is not known. */
export function positionWords(state: MachineState): string {
  const { size, name } = unitOf(state);
  const decimals = name === 'mm' ? 3 : 4;
  const words: string[] = [];
  for (let axis = 0; axis < state.position.length; axis++) {
    const value = state.position[axis];
    const isTurning = axis >= 3 && axis < 6;
    if (Number.isNaN(value)) {
      if (axis < 3) words.push(`${'XYZ'[axis]}?`);
    } else if (axis < 3 || value !== 0) {
      words.push(`${'XYZABCUVW'[axis]}${withPoint(shortNumber(isTurning ? value : value / size, decimals))}`);
    }
  }
  return words.join(' ');
}

/** A whole number ends with a point, as coordinates do. */
const withPoint = (number: string): string => (number.includes('.') ? number : `${number}.`);

function timeSentences({ seconds, secondsBefore, untimed }: ProgramTime, line: number): string[] {
  if (!(seconds > 0)) return [];
  const here = Number.isNaN(secondsBefore)
    ? []
    : [`Line ${line + 1} is reached after ${duration(secondsBefore)} of ${duration(seconds)}.`];
  const moves = untimed === 1 ? '1 move at feed has no F and is' : `${untimed} moves at feed have no F and are`;
  return [...here, ...(untimed > 0 ? [`${moves} not counted.`] : [])];
}

/** The place of a wrong arc: its block, what was executed there, how it is written. Lengths mm. */
import type { ArcFacts } from '../../machine/arcFacts.ts';
import type { Configuration } from '../../machine/configuration.ts';
import { shiftOf } from '../../machine/coordinates.ts';
import { MODE_COUNT, Mode, type ModePool } from '../../machine/modes.ts';
import { type Plane, planeOf } from '../../machine/planes.ts';
import { type Block, WordFlag } from '../../syntax/block.ts';
import { lengthPlaces } from '../support/numbers.ts';
import { type NumberStyle, styleOf } from './numberStyle.ts';
import type { Outcome, TrialSource, Trials } from './trial.ts';

/** How many lines behind the arc a repair is tried with. */
export const WINDOW = 50;

/** Where repairs look for what they need of the program. */
export interface RepairSource extends TrialSource {
  readonly configuration: Configuration;
  readonly modePool: ModePool;
  /** The words of a line as they are computed there. */
  readBlock(line: number): Block;
}

/** See the top of the file. */
export interface ArcSite {
  readonly line: number;
  /** How many lines behind the arc repairs are tried with. */
  readonly window: number;
  readonly block: Block;
  readonly arc: ArcFacts;
  readonly plane: Plane;
  /** Modes as the block's motion finds them. */
  readonly modes: Float64Array;
  readonly knowsArcDistance: boolean;
  /** Millimetres a unit of the program. */
  readonly unit: number;
  /** Centre words and end point are neither scaled, turned nor polar, and what they start from is known. */
  readonly isPlain: boolean;
  readonly style: NumberStyle;
  /** What a number without a point counts, in units of the program. */
  readonly increment: number;
  /** What comes of the block as it stands, with the blocks behind it. */
  readonly asWritten: Outcome;
  readonly source: RepairSource;
}

/** Looks at the arc of a line; undefined where there is none that was executed. */
export const siteOf = (source: RepairSource, trials: Trials, line: number, window: number): ArcSite | undefined => {
  const alone = trials.run(line, line, line, []);
  if (alone === undefined) return undefined;
  const motion = trials.mode(alone.modes, Mode.motion);
  if (motion !== 20 && motion !== 30) return undefined;
  const arc = { ...trials.arc };
  const modes = new Float64Array(MODE_COUNT);
  source.modePool.read(alone.modes, modes);
  const asWritten = trials.run(line, line + window, line, []);
  if (asWritten === undefined) return undefined;
  const block = trials.read(line);
  const unit = modes[Mode.units] === 20 ? 25.4 : 1;
  const { profile } = source.configuration;
  const countsIncrements = profile.decimalPoint === 'increment';
  const untouched = modes[Mode.scaling] !== 1 && modes[Mode.rotation] !== 1 && modes[Mode.polar] !== 1;
  return {
    line,
    window,
    block,
    arc,
    plane: planeOf(arc.plane),
    modes,
    knowsArcDistance: !profile.withoutCodes.includes(901),
    unit,
    isPlain: untouched && Number.isFinite(arc.startFirst + arc.startSecond),
    style: styleOf(block, unit, countsIncrements),
    increment: countsIncrements ? 1 / 10 ** lengthPlaces(unit) : 1,
    asWritten,
    source,
  };
};

/** Index of the usable word with a letter (place in the alphabet), −1 without. */
export const wordOf = ({ block }: ArcSite, letter: number): number => (block.has(letter) ? block.slot[letter] : -1);

/** True for a word whose number is written out. */
export const isWritten = ({ block }: ArcSite, index: number): boolean =>
  index >= 0 && (block.flags[index] & (WordFlag.computed | WordFlag.bad | WordFlag.empty)) === 0;

/** Length of a word in mm, 0 without the word. */
export const lengthOfWord = ({ block, increment, unit }: ArcSite, index: number): number => {
  if (index < 0) return 0;
  const counts = (block.flags[index] & (WordFlag.point | WordFlag.computed)) === 0;
  return block.values[index] * unit * (counts ? increment : 1);
};

/** Shift of a plane axis (0 first, 1 second) between programmed and work coordinates, mm. */
export const shiftIn = ({ modes, plane }: ArcSite, axis: 0 | 1): number =>
  shiftOf(modes, axis === 0 ? plane.first : plane.second);

/** Start of the arc in the plane as the program would write it, mm. */
export const startAsWritten = (site: ArcSite, axis: 0 | 1): number =>
  (axis === 0 ? site.arc.startFirst : site.arc.startSecond) - shiftIn(site, axis);

/** Letter of a plane axis and of its centre word. */
export const axisLetter = (site: ArcSite, axis: 0 | 1): number =>
  axis === 0 ? site.arc.firstAxis : site.arc.secondAxis;

export const centreLetter = (site: ArcSite, axis: 0 | 1): number =>
  axis === 0 ? site.arc.firstCentre : site.arc.secondCentre;

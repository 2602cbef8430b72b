/**
 * S and F that the tool in the spindle calls for: the pitch of a tap, cutting speeds of the material, feeds a tooth.
 * n = 1000·Vc/(π·D), F = n·z·fz and F = n·P are definitions (any machining handbook); the tables name their sources.
 */
import { BlockWriter } from '../blocks/blockWriter.ts';
import { contextAlone } from '../blocks/context.ts';
import { type Tap, tapUnder } from '../checks/support/tapInSpindle.ts';
import { feedForPitch, threadName } from '../checks/support/tapWords.ts';
import { Mode } from '../machine/modes.ts';
import { chipLoadRange } from '../reference/chipLoads.ts';
import { cuttingSpeedRange } from '../reference/cuttingSpeeds.ts';
import { spindleSpeedFor } from '../reference/threadMeasures.ts';
import type { CompletionPlace, WordItem } from './completionPlace.ts';
import { type Cutter, cutterUnder } from './hoverCutter.ts';
import { shortNumber } from './hoverPlace.ts';

const FEED_MODES = [94, 95];

/** F of the tap in the spindle: pitch × S, under G95 the pitch. Undefined where the thread, or a speed, is not known. */
export const tappingFeed = (place: CompletionPlace): WordItem | undefined => {
  const tap = tapOf(place);
  const pitch = tap?.thread?.pitch;
  if (pitch === undefined || !FEED_MODES.includes(place.mode(Mode.feedMode))) return undefined;
  const perTurn = place.mode(Mode.feedMode) === 95;
  const speed = place.mode(Mode.speed);
  if (!perTurn && (!(speed > 0) || place.mode(Mode.speedMode) === 96)) return undefined;
  const written = feedForPitch({ turns: perTurn ? 1 : speed }, pitch, place.unit);
  const text = place.configuration.profile.decimalPoint === 'increment' ? written : written.replace(/\.$/, '');
  const pitchText = `pitch ${shortNumber(pitch / place.unit, 5)}`;
  const effect = perTurn ? pitchText : `${pitchText} × S${shortNumber(speed, 1)}`;
  return { label: `F${text}`, detail: `feed of the tap ${threadName(tap)}`, effect, kind: 'word' };
};

/** F for the tool in the spindle at the speed in force. */
export const feedItems = (place: CompletionPlace): WordItem[] => {
  if (!place.isReached) return [];
  const tapping = tappingFeed(place);
  if (tapping !== undefined) return [tapping];
  const cutter = cutterOf(place);
  const range = cutter?.diameter === undefined ? undefined : chipLoadRange(cutter.kind, cutter.diameter);
  if (range === undefined || cutter?.teeth === undefined || !FEED_MODES.includes(place.mode(Mode.feedMode))) return [];
  const perTurn = place.mode(Mode.feedMode) === 95;
  const speed = place.mode(Mode.speed);
  if (!perTurn && (!(speed > 0) || place.mode(Mode.speedMode) === 96)) return [];
  // The geometric middle: the table spans from the finest cut to the coarsest, by a factor of ten and more.
  const perTooth = Math.sqrt(range[0] * range[1]);
  const exact = (perTooth * cutter.teeth * (perTurn ? 1 : speed)) / place.unit;
  const number = shortNumber(perTurn ? exact : roundedDown(exact), perTurn ? 3 : place.isInch ? 2 : 0);
  const point = place.configuration.profile.decimalPoint === 'increment' && !number.includes('.') ? '.' : '';
  const tooth = (value: number): string => shortNumber(value / place.unit, place.isInch ? 4 : 3);
  const detail = `feed: ${tooth(perTooth)} a tooth, ${cutter.teeth} teeth`;
  const effect = `usual ${tooth(range[0])} to ${tooth(range[1])}; the tool maker’s data comes first`;
  return [{ label: `F${number}${point}`, detail, effect, kind: 'word' }];
};

/** Two digits are as sharp as such a feed can be known. */
const roundedDown = (value: number): number => {
  const step = 10 ** Math.max(-2, Math.floor(Math.log10(value)) - 1);
  return Math.floor(value / step + 1e-6) * step;
};

/** S for the tool in the spindle in the material in force, in the lower part of what is usual. */
export const speedItems = (place: CompletionPlace): WordItem[] => {
  const { material, machine } = place.configuration;
  if (!place.isReached || material === undefined || place.mode(Mode.speedMode) === 96) return [];
  const cutter = cutterOf(place);
  if (cutter?.diameter === undefined) return [];
  const own = cutter.kind === 'tap' ? undefined : material.cuttingSpeed?.[cutter.cutting];
  const range = own ?? cuttingSpeedRange(material.name, cutter.kind, cutter.cutting);
  if (range === undefined) return [];
  const cuttingSpeed = range[0] + (range[1] - range[0]) / 3;
  const wanted = Math.round(spindleSpeedFor(cutter.diameter, cuttingSpeed));
  const speed = Math.max(1, Math.min(wanted, machine?.topSpeed ?? wanted));
  const writer = new BlockWriter(contextAlone(place.configuration));
  const diameter = shortNumber(cutter.diameter / place.unit, place.isInch ? 4 : 3);
  const detail = `diameter ${diameter} in ${material.name}${speed < wanted ? ', the machine’s top speed' : ''}`;
  const effect = `usual ${range[0]} to ${range[1]} m/min; the tool maker’s data comes first`;
  return [{ label: writer.word(['S', speed]), detail, effect, kind: 'word' }];
};

const tapOf = (place: CompletionPlace): Tap | undefined => {
  const { analysis, configuration } = place;
  // The block's own tool and remark count, so its modes are looked up as a set of their own.
  const modes = analysis.modePool.intern(Float64Array.from(place.after.modes), true);
  return tapUnder({ configuration, pool: analysis.modePool }, modes);
};

const cutterOf = ({ configuration, analysis, after }: CompletionPlace): Cutter | undefined =>
  cutterUnder(configuration, analysis.modePool, after.modes);

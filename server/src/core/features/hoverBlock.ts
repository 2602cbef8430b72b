/** What a whole block does, with the numbers that it results in. */
import { Mode } from '../machine/modes.ts';
import { gCodeName } from '../reference/codes.ts';
import { drillPointLength } from '../reference/threadMeasures.ts';
import { letterIndex } from '../syntax/block.ts';
import { cutterUnder } from './hoverCutter.ts';
import { duration, type HoverPlace, shortNumber } from './hoverPlace.ts';
import type { TracedArc, TracedMove } from './trace.ts';

/** Moves of a block that are told one by one; the rest is counted. */
const TOLD_MOVES = 3;

/** At most a few lines on the block; none where it does nothing to tell of. `word` is explained already, −1 none. */
export function blockSentences(place: HoverPlace, word = -1): string[] {
  const { moves } = place;
  const drills = place.mode(Mode.cycle) > 0 && moves.length > 0;
  const sentences = drills
    ? cycleSentences(place)
    : moves.slice(0, TOLD_MOVES).flatMap((move) => moveSentences(place, move));
  if (!drills && moves.length > TOLD_MOVES) {
    sentences.push(`${moves.length - TOLD_MOVES} more moves, ${duration(timeOf(moves))} in all.`);
  }
  const tool = toolSentence(place, word);
  return tool === '' ? sentences : [...sentences, tool];
}

function moveSentences(place: HoverPlace, move: TracedMove): string[] {
  if (move.kind === 'dwell') return [`Waits ${duration(move.seconds)}.`];
  const what = move.arc ? arcName(place, move, move.arc) : move.kind === 'rapid' ? 'Rapid' : straightName(place);
  const known = move.length > 0 ? `, ${place.lengthWithUnit(move.length)} long` : '';
  const rate = move.kind === 'rapid' ? '' : feedPart(place, move);
  const time = Number.isFinite(move.seconds) && move.length > 0 ? `, ${duration(move.seconds)}` : '';
  const first = `${what}: ${wayOf(place, move)}${known}${rate}${time}.`;
  return move.arc ? [first, arcSentence(place, move, move.arc)] : [first];
}

/** An arc that its words do not give is taken as the line to its end. */
const straightName = (place: HoverPlace): string =>
  place.motion === 20 || place.motion === 30 ? 'No arc comes of these words; shown as a straight line' : 'Straight cut';

function arcName(place: HoverPlace, move: TracedMove, arc: TracedArc): string {
  const climbs = move.from[place.plane.third] !== move.to[place.plane.third];
  return `${arc.clockwise ? 'Clockwise' : 'Counter-clockwise'} ${climbs ? 'helix' : 'arc'} in ${move.plane}`;
}

/** Centre, radius, angle; for a helix turns and lead. */
function arcSentence(place: HoverPlace, move: TracedMove, arc: TracedArc): string {
  const { plane } = place;
  const axes = [plane.first, plane.second].sort((a, b) => a - b);
  const centre = axes.map((axis) => `${'XYZ'[axis]}${place.length(arc.centre[axis])}`).join(' ');
  const sweep = Math.abs(arc.sweep);
  const blended = Math.abs(arc.radius - arc.endRadius) > 0.0005 ? ` (${place.length(arc.endRadius)} at the end)` : '';
  const angle = `${shortNumber(sweep, 2)}° ${arc.clockwise ? 'clockwise' : 'counter-clockwise'}`;
  const rise = move.to[plane.third] - move.from[plane.third];
  const turns = sweep / 360;
  const lead = Math.abs(rise) / turns;
  const helix =
    rise === 0 || Number.isNaN(rise)
      ? ''
      : `, ${shortNumber(turns, 3)} ${turns === 1 ? 'turn' : 'turns'}, lead ${place.lengthWithUnit(lead)} a turn ${rise < 0 ? 'down' : 'up'}`;
  return `Centre ${centre}, radius ${place.lengthWithUnit(arc.radius)}${blended}, ${angle}${helix}.`;
}

/** `X 0 → 12.5, Z ? → 2`: the axes that move. */
function wayOf(place: HoverPlace, move: TracedMove): string {
  const parts: string[] = [];
  const goesHome = place.hasG(280) || place.hasG(300);
  for (let axis = 0; axis < 3; axis++) {
    const [from, to] = [move.from[axis], move.to[axis]];
    if (from === to || (Number.isNaN(from) && Number.isNaN(to))) continue;
    const target = Number.isNaN(to) && goesHome ? 'reference point' : place.length(to);
    parts.push(`${'XYZ'[axis]} ${place.length(from)} → ${target}`);
  }
  return parts.length > 0 ? parts.join(', ') : 'back to where it starts';
}

function feedPart(place: HoverPlace, move: TracedMove): string {
  if (!Number.isFinite(move.feed)) return ', feed not known';
  const isPerTurn = place.mode(Mode.feedMode) === 95 || place.motion === 330;
  const perTurn = isPerTurn ? `, ${feedPerTurn(place, move)}` : '';
  return ` at ${place.length(move.feed)} ${place.unitName}/min${perTurn}`;
}

const feedPerTurn = (place: HoverPlace, move: TracedMove): string =>
  Number.isFinite(move.feed / move.speed)
    ? `${shortNumber(move.feed / move.speed / place.unit, 4)} ${place.unitName} a turn`
    : 'a turn not known without a speed';

/** What a cycle does in one hole, in order, with its levels. */
function cycleSentences(place: HoverPlace): string[] {
  const axis = 'XYZ'[place.plane.third];
  const level = (millimetres: number) => `${axis}${place.length(millimetres)}`;
  const cycle = place.mode(Mode.cycle);
  const retract = place.mode(Mode.cycleRetract);
  const depth = place.mode(Mode.cycleDepth);
  const cut = place.moves.find((move) => move.kind === 'line');
  const feed = cut ? feedPart(place, cut) : '';
  const out = place.mode(Mode.retract) === 99 ? retract : Math.max(place.mode(Mode.cycleInitial), retract);
  const turn = (cycle === 840 || cycle === 740) && cut ? `, ${feedPerTurn(place, cut)}` : '';
  const steps = [
    `rapid to R at ${level(retract)}`,
    `feed to ${level(depth)}${fullDiameter(place, cycle, retract, depth)}${feed}${turn}${pecks(place, cycle, retract - depth)}`,
    ...bottom(place, cycle),
    `${OUT_AT_FEED.has(cycle) ? 'feed' : 'rapid'} out to ${level(OUT_AT_FEED.has(cycle) ? retract : out)}`,
  ];
  const holes = holeCount(place);
  const name = gCodeName(cycle)?.split(/[:,]/)[0] ?? 'cycle';
  const time = timeOf(place.moves);
  const timeText = Number.isFinite(time) ? `; ${duration(time)} with the way there` : '';
  return [`${capital(name)}${holes > 1 ? `, ${holes} holes` : ''}: ${steps.join(', ')}${timeText}.`];
}

/** Angle of a drill's point where nobody gives it, degrees (DIN 338 twist drills, from memory). */
const USUAL_POINT = 118;
const DRILLING: ReadonlySet<number> = new Set([730, 810, 820, 830]);

/** How deep the hole of a drill has its full diameter: the depth is that of the tip. */
function fullDiameter(place: HoverPlace, cycle: number, retract: number, depth: number): string {
  const cutter = cutterUnder(place.configuration, place.analysis.modePool, place.after.modes);
  if (!DRILLING.has(cycle) || cutter?.kind !== 'drill' || cutter.diameter === undefined) return '';
  const point = drillPointLength(cutter.diameter, cutter.pointAngle ?? USUAL_POINT);
  if (!(Math.abs(retract - depth) > point)) return '';
  const full = depth < retract ? depth + point : depth - point;
  return ` (full Ø${place.length(cutter.diameter)} down to ${'XYZ'[place.plane.third]}${shortNumber(full / place.unit, place.unit === 1 ? 2 : 3)})`;
}

/** Cycles that leave the hole at feed. */
const OUT_AT_FEED: ReadonlySet<number> = new Set([740, 840, 850, 890]);

function pecks(place: HoverPlace, cycle: number, depth: number): string {
  const peck = place.mode(Mode.cyclePeck);
  if ((cycle !== 830 && cycle !== 730) || !(peck > 0) || !(depth > 0)) return '';
  const count = Math.ceil(depth / peck - 1e-9);
  return ` in ${count} ${count === 1 ? 'peck' : 'pecks'} of ${place.lengthWithUnit(peck)}`;
}

function bottom(place: HoverPlace, cycle: number): string[] {
  const dwell = place.mode(Mode.cycleDwell);
  const waits = dwell > 0 && (cycle === 820 || cycle === 890 || cycle === 880 || cycle === 860);
  const wait = waits ? [`wait ${duration(dwell)}`] : [];
  if (cycle === 840 || cycle === 740) return [...wait, 'spindle reverses'];
  if (cycle === 860) return [...wait, 'spindle stops'];
  if (cycle === 760) return ['spindle stops turned', 'steps off the wall'];
  return wait;
}

/** Repeats L (or K) of a cycle. */
function holeCount(place: HoverPlace): number {
  const { block } = place;
  const { repeats } = place.configuration.profile;
  const byL = repeats === 'K' ? Number.NaN : block.value(letterIndex('L'));
  const byK = repeats === 'L' ? Number.NaN : block.value(letterIndex('K'));
  const count = Number.isNaN(byL) ? byK : byL;
  return count > 0 ? count : 1;
}

/** True for the word M6, which names the tool. */
const isChange = ({ block }: HoverPlace, word: number): boolean =>
  block.letters[word] === letterIndex('M') && block.values[word] === 6;

/** The tool and what drives it, for blocks that set one of them. */
function toolSentence(place: HoverPlace, word: number): string {
  const { block } = place;
  // Said by the word itself.
  const isSaid = word >= 0 && (block.letters[word] === letterIndex('T') || isChange(place, word));
  // Of a move the modes that it inherits are told.
  if (isSaid || place.moves.some(({ kind }) => kind !== 'dwell')) return '';
  const sets = block.has(letterIndex('S')) || [3, 4, 5, 6].some((code) => place.hasM(code));
  if (!sets) return '';
  const tool = place.mode(Mode.tool);
  const description = tool >= 0 ? place.toolDescription(tool) : '';
  const speed = place.mode(Mode.speed);
  const parts = [
    tool >= 0 ? `T${tool}${description ? ` ${place.escape(description)}` : ''}` : '',
    speed > 0 ? `S${shortNumber(speed, 1)}${SPINDLE[place.mode(Mode.spindle)] ?? ''}` : '',
  ].filter((part) => part !== '');
  return parts.length > 0 ? `${parts.join(', ')}.` : '';
}

const SPINDLE: Readonly<Record<number, string>> = { 3: ' clockwise', 4: ' counter-clockwise', 5: ', spindle stopped' };

const timeOf = (moves: readonly TracedMove[]): number => moves.reduce((sum, move) => sum + move.seconds, 0);

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** Hints at what a block's motion, feed and speed come to. */
import { tapUnder } from '../checks/support/tapInSpindle.ts';
import { toolShape } from '../checks/support/toolShape.ts';
import { Mode } from '../machine/modes.ts';
import { EXTRA_WIDTH, MoveFlag, MoveKind } from '../machine/moves.ts';
import { planeOf } from '../machine/planes.ts';
import { spindleSpeedFor } from '../reference/threadMeasures.ts';
import { type Block, letterIndex } from '../syntax/block.ts';
import { shortNumber } from './hoverPlace.ts';
import type { HintKind, InlayHintText } from './inlayHints.ts';
import { columnBehind, type HintLine } from './inlayHintsLine.ts';

const [F, G, I, R, S] = ['F', 'G', 'I', 'R', 'S'].map(letterIndex);
/** Codes whose axis words are no places to go to: G4 G10 G28 G30 G50 G51 G52 G53 G65 G66 G68 G92. */
const NO_PLACES = new Set([4, 10, 28, 30, 50, 51, 52, 53, 65, 66, 68, 92]);
/** A radius that stands in a centre word agrees with it within this, mm. */
const SAME = 0.0006;
const METRES_A_FOOT = 0.3048;

/** The hints of a line whose block was read. */
export function motionHints(at: HintLine, block: Block): InlayHintText[] {
  return [...positionHints(at, block), ...arcHints(at, block), ...feedHints(at, block), ...speedHints(at, block)];
}

/** A hint behind word `index`. */
const behind = (at: HintLine, block: Block, index: number, kind: HintKind, label: string, tooltip: string) => ({
  kind,
  line: at.line,
  column: columnBehind(block, index),
  label,
  tooltip,
});

/** Where each axis word under G91 leads to. */
function positionHints(at: HintLine, block: Block): InlayHintText[] {
  if (at.mode(Mode.distance) !== 91 || !leadsToPlaces(at, block)) return [];
  const hints: InlayHintText[] = [];
  for (let i = 0; i < block.wordCount; i++) {
    const letter = String.fromCharCode(65 + block.letters[i]);
    const place = placeOf(at, letter);
    if (!Number.isFinite(place)) continue;
    const name = letter === 'R' ? 'Level R' : letter;
    const tooltip = `${name} is ${at.length(place)} from the work zero.`;
    hints.push(behind(at, block, i, 'position', `→ ${at.length(place)}`, tooltip));
  }
  return hints;
}

/** True where axis words are places, and one axis word moves its own axis only. */
function leadsToPlaces(at: HintLine, block: Block): boolean {
  if ([Mode.rotation, Mode.scaling, Mode.polar].some((field) => at.mode(field) !== 0)) return false;
  for (let i = 0; i < block.wordCount; i++) {
    if (block.letters[i] === G && NO_PLACES.has(Math.floor(block.values[i]))) return false;
  }
  const [first, end] = at.ownMoves;
  return end > first;
}

/** What a word's axis comes to behind the line, mm; NaN for words that are no places. */
function placeOf(at: HintLine, letter: string): number {
  const axis = 'XYZ'.indexOf(letter);
  if (at.mode(Mode.cycle) > 0) {
    if (letter === 'R') return at.mode(Mode.cycleRetract);
    if (axis === planeOf(at.mode(Mode.plane)).third) return at.mode(Mode.cycleDepth);
  }
  return axis < 0 ? Number.NaN : at.reached(at.ownMoves[1] - 1, axis);
}

/** Radius by centre words; turns and lead of a helix. */
function arcHints(at: HintLine, block: Block): InlayHintText[] {
  const { arc } = at;
  if (arc === undefined || block.wordCount === 0) return [];
  const { extras } = at.moves;
  const radius = extras[arc.extra + 2];
  const turns = Math.abs(extras[arc.extra + 4]) / (2 * Math.PI);
  const third = planeOf(at.mode(Mode.plane)).third;
  const rise = at.reached(arc.move, third) - at.reached(arc.move - 1, third);
  // The next of a row of turns tells nothing new.
  const isNew = Math.abs(rise / turns - leadBefore(at, arc.move, third)) > SAME;
  return [...radiusHint(at, block, radius), ...(isNew ? helixHint(at, block, turns, rise) : [])];
}

/** Rise a turn of the move before, where it is a helix; Infinity else. */
function leadBefore(at: HintLine, move: number, third: number): number {
  const { moves } = at;
  const row = move > 0 ? moves.firstExtra(move - 1) : -1;
  if (row < 0 || moves.extraMoves[row] !== move - 1) return Number.POSITIVE_INFINITY;
  if ((moves.kinds[move - 1] & MoveFlag.kindMask) !== MoveKind.arc) return Number.POSITIVE_INFINITY;
  const turns = Math.abs(moves.extras[row * EXTRA_WIDTH + 4]) / (2 * Math.PI);
  return (at.reached(move - 1, third) - at.reached(move - 2, third)) / turns;
}

function radiusHint(at: HintLine, block: Block, radius: number): InlayHintText[] {
  let last = -1;
  const unit = at.isInch ? 25.4 : 1;
  for (let i = 0; i < block.wordCount; i++) {
    if (block.letters[i] < I || block.letters[i] > I + 2) continue;
    // The centre lies straight beside the start: the word says the radius already.
    if (Math.abs(Math.abs(block.values[i]) * unit - radius) < SAME && at.mode(Mode.arcDistance) === 91) return [];
    last = i;
  }
  if (last < 0 || block.has(R) || !Number.isFinite(radius)) return [];
  const tooltip = `The arc’s radius, from where it starts to its centre.`;
  return [behind(at, block, last, 'arcRadius', `R${at.length(radius)}`, tooltip)];
}

function helixHint(at: HintLine, block: Block, turns: number, rise: number): InlayHintText[] {
  if (!(Math.abs(rise) > 1e-6) || !(turns > 0)) return [];
  const letter = at.configuration.profile.turns.letter;
  const saysTurns = (letter === 'P' || letter === 'L') && block.has(letterIndex(letter));
  const isOne = Math.abs(turns - 1) < 0.0005;
  // Under G91 the depth of one turn is its lead.
  if (isOne && at.mode(Mode.distance) === 91) return [];
  const lead = at.length(Math.abs(rise) / turns);
  const count = shortNumber(turns, 2);
  const short = `lead ${lead}`;
  const long = `${count}× ${short}`;
  const label = saysTurns || turns < 1 || isOne || long.length > 14 ? short : long;
  const unit = at.isInch ? 'in' : 'mm';
  const tooltip = `${count} ${isOne ? 'turn' : 'turns'}, ${lead} ${unit} ${rise < 0 ? 'down' : 'up'} a turn.`;
  return [behind(at, block, block.wordCount - 1, 'helix', label, tooltip)];
}

/** What F comes to a turn where a thread is tapped. */
function feedHints(at: HintLine, block: Block): InlayHintText[] {
  if (!block.has(F) || at.mode(Mode.feedMode) !== 94 || !taps(at)) return [];
  const speed = at.mode(Mode.speed);
  const feed = at.mode(Mode.feed);
  if (!(speed > 0) || !(feed > 0) || at.mode(Mode.speedMode) === 96) return [];
  const lead = at.length(feed / speed);
  const unit = at.isInch ? 'in' : 'mm';
  const tooltip = `F${at.length(feed)} at S${shortNumber(speed, 1)} is ${lead} ${unit} a turn: the pitch of the thread.`;
  return [behind(at, block, block.slot[F], 'feedPerTurn', `${lead} a turn`, tooltip)];
}

/** True for a tapping cycle, and for cuts with a tap. */
function taps(at: HintLine): boolean {
  const cycle = at.mode(Mode.cycle);
  if (cycle === 840 || cycle === 740) return true;
  const { moves } = at;
  const [first, end] = at.ownMoves;
  for (let move = first; move < end; move++) {
    if ((moves.kinds[move] & MoveFlag.kindMask) !== MoveKind.line) continue;
    return tapUnder({ configuration: at.configuration, pool: at.analysis.modePool }, at.modes) !== undefined;
  }
  return false;
}

/** What a cutting speed (G96) comes to for the cutter in the spindle. */
function speedHints(at: HintLine, block: Block): InlayHintText[] {
  const speed = at.mode(Mode.speed);
  if (!block.has(S) || at.mode(Mode.speedMode) !== 96 || !(speed > 0)) return [];
  const { diameter } = toolShape(at.configuration, at.analysis.modePool, at.modes);
  if (diameter === undefined) return [];
  const metres = at.isInch ? speed * METRES_A_FOOT : speed;
  const turns = shortNumber(spindleSpeedFor(diameter, metres), 0);
  const size = `${at.length(diameter)} ${at.isInch ? 'in' : 'mm'}`;
  const tooltip = `${turns} rev/min where the control counts with the cutter’s diameter, ${size}.`;
  return [behind(at, block, block.slot[S], 'spindleSpeed', `≈${turns}/min`, tooltip)];
}

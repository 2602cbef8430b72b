/** Executes an arc: its words, what is wrong with them, the move. */
import type { Block } from '../syntax/block.ts';
import { arcCloses, solveByCentre, solveByRadius } from './arcs.ts';
import { scaleVector, toProgrammed, toWork, turnVector } from './coordinates.ts';
import type { Executor } from './executor.ts';
import { checkFeed } from './feed.ts';
import { I, J, K, L, P, R } from './letters.ts';
import { Mode } from './modes.ts';
import { MoveKind } from './moves.ts';
import { AXIS_WORDS, OTHER_AXIS_BITS, planeOf } from './planes.ts';
import { programTarget } from './references.ts';

/** Word index of a letter, −1 without. */
const wordOf = (executor: Executor, letter: number): number =>
  executor.block.has(letter) ? executor.block.slot[letter] : -1;

const vector = new Float64Array(3);
const tangent = new Float64Array(3);

/** Carries out a block of G2 (`clockwise`) or G3. */
export const arcMotion = (executor: Executor, clockwise: boolean): void => {
  const { modes, position, target, arc } = executor;
  programTarget(executor);
  executor.arrival(tangent);
  const plane = planeOf(modes[Mode.plane]);
  arc.plane = plane.code;
  arc.firstAxis = AXIS_WORDS[plane.first];
  arc.secondAxis = AXIS_WORDS[plane.second];
  arc.thirdAxis = AXIS_WORDS[plane.third];
  arc.firstCentre = I + plane.first;
  arc.secondCentre = I + plane.second;
  arc.startFirst = position[plane.first];
  arc.startSecond = position[plane.second];
  arc.startThird = position[plane.third];
  arc.endFirst = target[plane.first];
  arc.endSecond = target[plane.second];
  arc.endThird = target[plane.third];
  arc.wordI = wordOf(executor, I);
  arc.wordJ = wordOf(executor, J);
  arc.wordK = wordOf(executor, K);
  arc.radiusWord = wordOf(executor, R);
  arc.motionWord = executor.motionWord;
  const first = wordOf(executor, arc.firstAxis);
  arc.endWord = first >= 0 ? first : wordOf(executor, arc.secondAxis);
  arc.tangentFirst = tangent[plane.first];
  arc.tangentSecond = tangent[plane.second];
  arc.clockwise = executor.isMirrored() ? !clockwise : clockwise;
  arc.turns = turnsOf(executor);
  checkFeed(executor);
  const solved = solveArc(executor);
  emitArc(executor, solved);
  executor.listener.cut();
};

const turnsOf = (executor: Executor): number => {
  const { profile, block } = executor;
  const letter = profile.turns.letter === 'P' ? P : profile.turns.letter === 'L' ? L : -1;
  if (letter < 0 || !block.has(letter)) return 0;
  const turns = block.value(letter);
  return turns >= 1 ? Math.floor(turns) : 0;
};

/** Largest difference of the radii in mm. Source: 2.83 last places is what rounding alone gives (design, language page). */
const toleranceOf = (executor: Executor): number => {
  const { profile, block, arc, unit } = executor;
  const { mm, inch, places } = profile.arcTolerance;
  const fixed = unit === 1 ? mm : inch * 25.4;
  if (places === 0) return fixed;
  let decimals = unit === 1 ? 2 : 3;
  decimals = Math.max(decimals, decimalsOf(block, arc.firstAxis), decimalsOf(block, arc.secondAxis));
  decimals = Math.max(decimals, decimalsOf(block, arc.firstCentre), decimalsOf(block, arc.secondCentre));
  if (profile.decimalPoint === 'increment') decimals = Math.max(decimals, unit === 1 ? 3 : 4);
  return Math.max(fixed, places * LAST_PLACE[decimals] * unit);
};

/** 1, 0.1, 0.01 … by number of decimals. */
const LAST_PLACE = Float64Array.from({ length: 256 }, (_, decimals) => 10 ** -decimals);

const decimalsOf = (block: Block, letter: number): number =>
  block.has(letter) ? block.decimals[block.slot[letter]] : 0;

/** Computes the arc; false if it cannot be (the fault is raised) or is not known. */
const solveArc = (executor: Executor): boolean => {
  const { arc, modes, block } = executor;
  arc.tolerance = toleranceOf(executor);
  arc.programmedRadius = executor.length(R);
  arc.byRadius = arc.radiusWord >= 0;
  arc.centreFirst = Number.NaN;
  arc.centreSecond = Number.NaN;
  const offPlane = checkOffPlane(executor);
  const hasCentre = block.has(arc.firstCentre) || block.has(arc.secondCentre);
  if (arc.byRadius) {
    if (hasCentre) executor.faultAt('arc-centre-and-radius', 'both', arc.radiusWord, { radius: block.value(R) }, arc);
    if (modes[Mode.scaling] === 1) arc.programmedRadius *= Math.abs(modes[Mode.scaleX + planeOf(arc.plane).first]);
    return radiusArc(executor);
  }
  if (!hasCentre) {
    if (!offPlane) missingCentre(executor);
    return false;
  }
  if (Number.isNaN(arc.startFirst + arc.startSecond + arc.endFirst + arc.endSecond)) return false;
  placeCentre(executor);
  if (Number.isNaN(arc.centreFirst + arc.centreSecond)) return false;
  return centreArc(executor, offPlane);
};

const missingCentre = (executor: Executor): void => {
  const { arc } = executor;
  executor.faultAt(
    'arc-centre-missing',
    'missing',
    arc.motionWord,
    {
      plane: `G${arc.plane}`,
      first: letterOf(arc.firstCentre),
      second: letterOf(arc.secondCentre),
    },
    arc,
  );
};

const letterOf = (letter: number): string => String.fromCharCode(65 + letter);

/** Raises centre words that do not belong to the plane; zero is silent. */
const checkOffPlane = (executor: Executor): boolean => {
  const { arc, block } = executor;
  let found = false;
  for (let letter = I; letter <= K; letter++) {
    if (letter === arc.firstCentre || letter === arc.secondCentre || !block.has(letter)) continue;
    const word = block.slot[letter];
    if (block.values[word] === 0) continue;
    found = true;
    executor.faultAt(
      'arc-centre-off-plane',
      'off-plane',
      word,
      {
        word: block.wordText(word),
        plane: `G${arc.plane}`,
        expected: `${letterOf(arc.firstCentre)} and ${letterOf(arc.secondCentre)}`,
      },
      arc,
    );
  }
  return found;
};

/** Centre from its words: from the start point (G91.1), or as a point of the program (G90.1). */
const placeCentre = (executor: Executor): void => {
  const { arc, modes, block } = executor;
  const plane = planeOf(modes[Mode.plane]);
  const first = block.has(arc.firstCentre) ? executor.lengthAt(block.slot[arc.firstCentre]) : 0;
  const second = block.has(arc.secondCentre) ? executor.lengthAt(block.slot[arc.secondCentre]) : 0;
  vector.fill(0);
  if (modes[Mode.arcDistance] === 91) {
    vector[plane.first] = first;
    vector[plane.second] = second;
    scaleVector(modes, vector);
    turnVector(modes, vector, 1);
    arc.centreFirst = arc.startFirst + vector[plane.first];
    arc.centreSecond = arc.startSecond + vector[plane.second];
    return;
  }
  absoluteCentre(executor, first, second);
};

const absoluteCentre = (executor: Executor, first: number, second: number): void => {
  const { arc, modes, position } = executor;
  const plane = planeOf(modes[Mode.plane]);
  vector.set(position.subarray(0, 3));
  toProgrammed(modes, vector);
  vector[plane.first] = first;
  vector[plane.second] = second;
  toWork(modes, vector);
  arc.centreFirst = vector[plane.first];
  arc.centreSecond = vector[plane.second];
};

const radiusArc = (executor: Executor): boolean => {
  const { arc } = executor;
  if (Number.isNaN(arc.startFirst + arc.startSecond + arc.endFirst + arc.endSecond + arc.programmedRadius))
    return false;
  if (arcCloses(arc)) {
    executor.faultAt('arc-full-circle-by-radius', 'full', arc.radiusWord, {}, arc);
    return false;
  }
  if (arc.programmedRadius === 0) {
    executor.faultAt('arc-zero-radius', 'zero', arc.radiusWord, {}, arc);
    return false;
  }
  const least = solveByRadius(arc);
  if (Math.abs(arc.programmedRadius) < least - arc.tolerance) {
    const { unit } = executor;
    executor.faultAt(
      'arc-radius-too-small',
      'too-small',
      arc.radiusWord,
      {
        radius: Math.abs(arc.programmedRadius) / unit,
        least: least / unit,
      },
      arc,
    );
    return true;
  }
  return addTurns(executor);
};

const centreArc = (executor: Executor, offPlane: boolean): boolean => {
  const { arc, unit } = executor;
  solveByCentre(arc);
  const word = arc.wordI >= 0 || arc.wordJ >= 0 || arc.wordK >= 0 ? firstCentreWord(executor) : arc.motionWord;
  if (arc.radius < 1e-6) {
    if (!offPlane) executor.faultAt('arc-zero-radius', 'zero', word, {}, arc);
    return false;
  }
  const difference = Math.abs(arc.radius - arc.endRadius);
  if (difference > arc.tolerance && !offPlane) {
    executor.faultAt(
      'arc-radius-mismatch',
      'mismatch',
      -1,
      {
        startRadius: arc.radius / unit,
        endRadius: arc.endRadius / unit,
        difference: difference / unit,
        tolerance: arc.tolerance / unit,
      },
      arc,
    );
    return addTurns(executor);
  }
  if (offPlane) return false;
  addTurns(executor);
  tellArc(executor);
  return true;
};

const firstCentreWord = (executor: Executor): number => {
  const { arc } = executor;
  return wordOf(executor, arc.firstCentre) >= 0
    ? wordOf(executor, arc.firstCentre)
    : wordOf(executor, arc.secondCentre);
};

/** Tells of an arc without fault. */
const tellArc = (executor: Executor): void => {
  const { arc, compensation, isCompensating } = executor;
  arc.pathRadius = isCompensating ? compensation.pathRadius() : (arc.radius + arc.endRadius) / 2;
  executor.listener.arc(arc);
};

/** Adds whole turns; an arc by R that came this far is without fault. */
const addTurns = (executor: Executor): boolean => {
  const { arc, profile } = executor;
  const extra = profile.turns.counts === 'turns' ? arc.turns - 1 : arc.turns;
  if (extra > 0) arc.sweep += Math.sign(arc.sweep) * extra * 2 * Math.PI;
  if (arc.byRadius) tellArc(executor);
  return true;
};

/** Adds the arc to the path; what could not be computed is drawn as a straight line to its end. */
const emitArc = (executor: Executor, solved: boolean): void => {
  const { arc, target } = executor;
  if (!solved) {
    executor.moveTo(MoveKind.line);
    return;
  }
  const plane = planeOf(arc.plane);
  target[plane.first] = arc.endFirst;
  target[plane.second] = arc.endSecond;
  executor.carryLength();
  executor.arcTo((executor.block.present & OTHER_AXIS_BITS) !== 0);
};

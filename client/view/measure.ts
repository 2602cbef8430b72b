// What is said of measured points and moves: numbers in the program's unit, as they are read off a drawing.
import type { PathMove, PathPoint } from '../../server/src/core/geometry/pathRequestMove.ts';
import { AXIS_NAMES, PLANE_AXES } from './backdrop.ts';
import type { Point, ViewName } from './camera.ts';
import { nearestOf } from './measureCurves.ts';
import { angleText, lengthText, unitName } from './numbers.ts';

/** A point that was set. */
export interface MeasuredPoint {
  /** Work coordinates, mm. */
  readonly at: Point;
  /** An end, a centre, the work zero, a place on the path, or any place of a flat view: that one is known in the view's plane only. */
  readonly kind: 'end' | 'centre' | 'zero' | 'path' | 'free';
}

/** Radii at both ends of an arc that differ by less are said as one, mm. */
const SAME_RADIUS = 0.0005;

/** The axis that a flat view looks along; none in space. */
export function depthAxis(view: ViewName): 0 | 1 | 2 | undefined {
  return view === 'space' ? undefined : ([0, 1, 2] as const).find((axis) => !PLANE_AXES[view].includes(axis));
}

/** From the first point to the second: differences, length, and the angle in the view's plane (in space: in XY). */
export function pointsTexts(first: MeasuredPoint, second: MeasuredPoint, view: ViewName, inch: boolean): string[] {
  const unit = unitName(inch);
  const hidden = depthAxis(view);
  const isFlatOnly = hidden !== undefined && (first.kind === 'free' || second.kind === 'free');
  const way = first.at.map((value, axis) => second.at[axis] - value) as unknown as Point;
  const differences = AXIS_NAMES.map((name, axis) => `d${name} ${lengthText(way[axis], inch)}`);
  const [i, j] = PLANE_AXES[view];
  const plane = `${AXIS_NAMES[i]}${AXIS_NAMES[j]}`;
  const flat = Math.hypot(way[i], way[j]);
  const turn = (Math.atan2(way[j], way[i]) * 180) / Math.PI;
  const angle = `${angleText(turn < 0 ? turn + 360 : turn)} from ${AXIS_NAMES[i]}+ toward ${AXIS_NAMES[j]}+`;
  const inPlane = `in ${plane} ${lengthText(flat, inch)} ${unit}${flat > 1e-6 ? `, ${angle}` : ''}`;
  if (isFlatOnly) {
    return [differences.filter((_, axis) => axis !== hidden).join('  '), inPlane];
  }
  const length = Math.hypot(...way);
  const rise = (Math.atan2(way[2], Math.hypot(way[0], way[1])) * 180) / Math.PI;
  const slope = view === 'space' && length > 1e-6 ? `, rises ${angleText(rise)} from XY` : '';
  return [differences.join('  '), `length ${lengthText(length, inch)} ${unit}${slope}`, inPlane];
}

/** A move: what it is, how long, and of an arc its radius, sweep and centre. */
export function moveTexts(move: PathMove, inch: boolean): string[] {
  const unit = unitName(inch);
  const pass = move.passes > 1 ? `, pass ${move.pass} of ${move.passes}` : '';
  const texts = [
    `line ${move.line + 1}${pass}: ${kindText(move)}`,
    `length ${lengthText(move.length, inch)} ${unit}`,
    ...arcTexts(move, inch),
  ];
  if (move.kind !== 'arc') {
    texts.push(differencesText(move, inch));
  }
  texts.push(`from ${placeText(move.from, inch)}  to ${placeText(move.to, inch)}`);
  return texts;
}

/** Two moves: how near they come to each other, and how near they are seen in a flat view. */
export function movesTexts(first: PathMove, second: PathMove, view: ViewName, inch: boolean): string[] {
  const unit = unitName(inch);
  const nearest = nearestOf(first, second);
  const names = `line ${first.line + 1}: ${kindText(first)}, line ${second.line + 1}: ${kindText(second)}`;
  if (!nearest) {
    return [names, 'One of these moves has an end that is not known. Choose another.'];
  }
  const texts = [names, `distance ${lengthText(nearest.distance, inch)} ${unit}`];
  const hidden = depthAxis(view);
  const seen = hidden === undefined ? undefined : nearestOf(first, second, hidden);
  if (seen && view !== 'space') {
    const [i, j] = PLANE_AXES[view];
    texts.push(`in ${AXIS_NAMES[i]}${AXIS_NAMES[j]} ${lengthText(seen.distance, inch)} ${unit}`);
  }
  return texts;
}

function kindText({ kind, from, to, plane }: PathMove): string {
  if (kind === 'arc') {
    const normal = { XY: 2, ZX: 1, YZ: 0 }[plane];
    return from[normal] === to[normal] ? 'arc' : 'helix';
  }
  return kind === 'line' ? 'straight at feed' : kind === 'dwell' ? 'wait' : 'rapid';
}

function arcTexts({ centre, radius, endRadius, sweep }: PathMove, inch: boolean): string[] {
  if (typeof radius !== 'number' || typeof sweep !== 'number') {
    return [];
  }
  const isOne = typeof endRadius !== 'number' || Math.abs(endRadius - radius) < SAME_RADIUS;
  const size = isOne
    ? `radius ${lengthText(radius, inch)}, diameter ${lengthText(2 * radius, inch)}`
    : `radius ${lengthText(radius, inch)} at the start, ${lengthText(endRadius, inch)} at the end`;
  const way = sweep < 0 ? 'clockwise' : 'counter-clockwise';
  const texts = [`${size} ${unitName(inch)}, ${angleText(Math.abs(sweep))} ${way}`];
  return centre ? [...texts, `centre ${placeText(centre, inch)}`] : texts;
}

function differencesText({ from, to }: PathMove, inch: boolean): string {
  return AXIS_NAMES.map((name, axis) => {
    const [start, end] = [from[axis], to[axis]];
    return `d${name} ${start === null || end === null ? 'not known' : lengthText(end - start, inch)}`;
  }).join('  ');
}

function placeText(place: PathPoint, inch: boolean): string {
  return AXIS_NAMES.map((name, axis) => {
    const value = place[axis];
    return `${name} ${value === null ? '?' : lengthText(value, inch)}`;
  }).join(' ');
}

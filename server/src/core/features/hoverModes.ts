/** The modes that a move inherits, with the lines that they were set on. */
import { Mode } from '../machine/modes.ts';
import type { HoverPlace } from './hoverPlace.ts';
import { type OriginPlace, RunBack } from './modeOrigin.ts';
import { modeFinder, type OriginMode } from './modeOriginFinders.ts';

/** Motion G code × 10 of a rapid. */
const RAPID = 0;

/**
 * `From line 1: G17 G21 G90 G54 · line 2: T1 DRILL D5 · line 5: G1 F200`; '' for blocks that do not move and where all is in
 * the block itself. Only what this kind of move depends on.
 */
export const inheritedModes = (place: HoverPlace): string => {
  const moves = place.moves.some((move) => move.kind !== 'dwell');
  if (!moves || place.hasG(280) || place.hasG(300) || !place.isReached) return '';
  const run = new RunBack(place.analysis, place.configuration);
  const lines = new Map<string, { readonly origin: OriginPlace; readonly words: string[] }>();
  for (const mode of modesOf(place)) {
    const origin = run.at(place.line, modeFinder(mode, place.configuration.profile));
    // What the block sets itself is in sight.
    if (origin === undefined || (origin.program === undefined && origin.line === place.line)) continue;
    const key = `${origin.program ?? ''} ${origin.line}`;
    const known = lines.get(key) ?? { origin, words: [] };
    known.words.push(wordsOf(place, mode, origin));
    lines.set(key, known);
  }
  if (lines.size === 0) return '';
  const told = [...lines.values()].sort((a, b) => order(a.origin) - order(b.origin));
  return `From ${told.map(({ origin, words }) => `${placeOf(place, origin)}: ${[...new Set(words)].join(' ')}`).join(' · ')}`;
};

/** Modes in the order that they are usually written. */
const modesOf = (place: HoverPlace): OriginMode[] => {
  const cycle = place.mode(Mode.cycle) > 0;
  const cuts = cycle || place.mode(Mode.motion) !== RAPID;
  const needsPlane = cycle || place.moves.some(({ kind }) => kind === 'arc');
  const isCompensating = place.mode(Mode.radiusCompensation) !== 40;
  const hasLength = place.mode(Mode.lengthCompensation) !== 49;
  const drillsByMotion = cycle && place.configuration.profile.cyclesAreMotion;
  const modes: (OriginMode | '')[] = [
    needsPlane ? 'plane' : '',
    'units',
    'distance',
    'offset',
    'tool',
    hasLength ? 'lengthCompensation' : '',
    hasLength ? 'lengthRegister' : '',
    isCompensating ? 'radiusCompensation' : '',
    isCompensating ? 'radiusRegister' : '',
    place.mode(Mode.scaling) === 1 ? 'scaling' : '',
    place.mode(Mode.rotation) === 1 ? 'rotation' : '',
    place.mode(Mode.polar) === 1 ? 'polar' : '',
    cuts ? 'speed' : '',
    cuts ? 'spindle' : '',
    cycle ? 'retract' : '',
    cycle && !drillsByMotion ? 'cycle' : 'motion',
    cuts && place.mode(Mode.feedMode) !== 94 ? 'feedMode' : '',
    // F that a change of the feed mode made void holds no more.
    cuts && place.mode(Mode.feed) >= 0 ? 'feed' : '',
  ];
  return modes.filter((mode): mode is OriginMode => mode !== '');
};

/** The word as it is written; of a tool also what it is. */
const wordsOf = (place: HoverPlace, mode: OriginMode, { line, column, endColumn, program }: OriginPlace): string => {
  const tool =
    mode === 'tool' ? `T${place.mode(Mode.tool)} ${place.toolDescription(place.mode(Mode.tool))}`.trim() : '';
  if (tool !== '' && place.mode(Mode.tool) >= 0) return place.escape(tool);
  const written = program === undefined ? place.analysis.lineText(line).slice(column, endColumn) : '';
  return written === '' ? (NAMES[mode] ?? mode) : place.escape(written.replace(/\s+/g, '').toUpperCase());
};

/** How a mode is called whose word is in another file. */
const NAMES: Readonly<Partial<Record<OriginMode, string>>> = {
  feedMode: 'feed mode',
  speedMode: 'speed mode',
  lengthCompensation: 'tool length',
  lengthRegister: 'H',
  radiusCompensation: 'radius compensation',
  radiusRegister: 'D',
};

/** The program's own lines in their order, then those of other files. */
const order = ({ line, program }: OriginPlace): number => (program === undefined ? line : 1e9 + line);

/** `line 5` as a link; of another file in words. */
export const placeOf = (place: HoverPlace, { line, program }: Pick<OriginPlace, 'line' | 'program'>): string =>
  program === undefined ? place.link(line) : `O${program} line ${line + 1}`;

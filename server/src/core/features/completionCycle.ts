/** The words that a cycle still wants, as the tool's last cycle had them. */
import { BlockWriter, formatLength } from '../blocks/blockWriter.ts';
import { contextAlone } from '../blocks/context.ts';
import type { Analysis } from '../checks/analysis.ts';
import { shiftOf } from '../machine/coordinates.ts';
import { Mode } from '../machine/modes.ts';
import type { CompletionPlace, WordItem } from './completionPlace.ts';
import { tappingFeed } from './completionRates.ts';
import { isTapping, wordsOfCode } from './signatureWords.ts';

/** A cycle that ran before: the set of modes under it, and the line of its code (from 0). */
interface LastCycle {
  readonly modes: number;
  readonly line: number;
}

/** The words that are missing, all of them together first. Nothing in a block that does not name its cycle. */
export const cycleItems = (place: CompletionPlace): WordItem[] => {
  const cycle = place.isReached ? place.mode(Mode.cycle) : 0;
  if (cycle === 0 || !place.hasCode('G', [cycle])) return [];
  const words = wordsOfCode(place.configuration.profile, cycle, place.mode(Mode.plane)) ?? [];
  const last = lastCycle(place.analysis, place.line, place.mode(Mode.tool));
  const items: WordItem[] = [];
  for (const { letter, meaning, isNeeded } of words) {
    if (!isNeeded || place.has(letter) || holdsFromBefore(place, letter)) continue;
    const feed = letter === 'F' && isTapping(cycle) ? tappingFeed(place) : undefined;
    const text = last === undefined ? undefined : lastWord(place, last, letter);
    if (feed !== undefined) items.push(feed);
    else if (text !== undefined && last !== undefined)
      items.push(asBefore(place, last, text, meaning.split(/[;,]/)[0]));
  }
  return items.length < 2 ? items : [together(items), ...items];
};

const asBefore = ({ analysis }: CompletionPlace, last: LastCycle, label: string, detail: string): WordItem => {
  const code = analysis.modePool.at(last.modes, Mode.cycle) / 10;
  return { label, detail, effect: `as in G${code}, line ${last.line + 1}`, kind: 'word' };
};

const together = (items: readonly WordItem[]): WordItem => ({
  label: items.map(({ label }) => label).join(' '),
  detail: 'all words that are missing',
  effect: items.find(({ effect }) => effect.startsWith('as in'))?.effect ?? '',
  kind: 'word',
});

/** True for a word of the active cycle that holds from an earlier block, or is written in this one. */
export const holdsFromBefore = (place: CompletionPlace, letter: string): boolean => {
  const third = 'XYZ'[place.plane.third];
  const field = { R: Mode.cycleRetract, [third]: Mode.cycleDepth, Q: Mode.cyclePeck, P: Mode.cycleDwell }[letter];
  return field !== undefined && !Number.isNaN(place.mode(field));
};

/** A word of an earlier cycle as it would be written here; undefined where that cycle had none. */
const lastWord = (place: CompletionPlace, { modes }: LastCycle, letter: string): string | undefined => {
  const { plane, unit, isInch } = place;
  const was = (field: number): number => place.analysis.modePool.at(modes, field);
  if (was(Mode.plane) !== plane.code) return undefined;
  const isIncremental = place.mode(Mode.distance) === 91;
  const length = (millimetres: number): string | undefined =>
    Number.isNaN(millimetres) ? undefined : letter + formatLength(millimetres / unit, isInch);
  const shift = shiftOf(place.after.modes, plane.third);
  if (letter === 'R') {
    return length(was(Mode.cycleRetract) - (isIncremental ? place.before.position[plane.third] : shift));
  }
  if (letter === 'XYZ'[plane.third]) {
    const written = place.mode(Mode.cycleRetract);
    const retract = Number.isNaN(written) ? was(Mode.cycleRetract) : written;
    return length(was(Mode.cycleDepth) - (isIncremental ? retract : shift));
  }
  if (letter === 'Q') return length(was(Mode.cyclePeck));
  if (letter !== 'P' || !(was(Mode.cycleDwell) > 0)) return undefined;
  const context = contextAlone(place.configuration, isInch ? 'inch' : 'mm');
  return new BlockWriter(context).dwellWord(was(Mode.cycleDwell));
};

/** What makes a cycle the same one. */
const CYCLE_WORDS = [Mode.cycle, Mode.cycleRetract, Mode.cycleDepth, Mode.cyclePeck, Mode.cycleDwell, Mode.tool];

/** The last cycle before a line that drilled with a tool; else the last one of any tool. */
const lastCycle = (analysis: Analysis, line: number, tool: number): LastCycle | undefined => {
  const pool = analysis.modePool;
  const isSame = (a: LastCycle, b: LastCycle): boolean =>
    CYCLE_WORDS.every((field) => Object.is(pool.at(a.modes, field), pool.at(b.modes, field)));
  let own: LastCycle | undefined;
  let other: LastCycle | undefined;
  for (const found of modesBefore(analysis, line)) {
    if (own !== undefined) {
      // On to the block that named it.
      if (!isSame(own, found)) return own;
      own = found;
    } else if (pool.at(found.modes, Mode.cycle) > 0 && !Number.isNaN(pool.at(found.modes, Mode.cycleDepth))) {
      if (pool.at(found.modes, Mode.tool) === tool) own = found;
      else if (other === undefined || isSame(other, found)) other = found;
    }
  }
  return own ?? other;
};

/**
 * The sets of modes behind the blocks before a line, the nearest first, each once as long as it stays the same, with the
 * first of its lines. In the order of the run; of loops and calls the first pass.
 */
function* modesBefore(analysis: Analysis, line: number): Generator<LastCycle> {
  const passages = Array.from(analysis.passages()).filter(({ segment }) => segment.pass === 1);
  let at = passages.length - 1;
  for (; at >= 0; at--) {
    const { segment, firstLine } = passages[at];
    if (firstLine <= line && line < firstLine + segment.blockCount) break;
  }
  let modes = -1;
  let first = -1;
  let block = at < 0 ? -1 : line - passages[at].firstLine - 1;
  for (; at >= 0; at--) {
    const { segment, firstLine } = passages[at];
    for (; block >= 0; block--) {
      const found = segment.modesAfter[block];
      if (found !== modes && modes >= 0) yield { modes, line: first };
      modes = found;
      first = firstLine + block;
    }
    block = (passages[at - 1]?.segment.blockCount ?? 0) - 1;
  }
  if (modes >= 0) yield { modes, line: first };
}

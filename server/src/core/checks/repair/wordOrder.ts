/** Words of a repair in the order in which programs are written: X Y Z, then I J K, then R. */
import type { ArcSite } from './site.ts';
import type { LineEdit } from './trial.ts';

const ORDER = 'XYZIJKR';
const GROUPS = ['XYZ', 'IJK'];

const placeOf = (word: string): number => ORDER.indexOf(word.trimStart()[0].toUpperCase());
const inOrder = (words: readonly string[]): string[] => [...words].sort((a, b) => placeOf(a) - placeOf(b));

/** What writing the words of these edits is called, such as "Write I0. J8.". */
export const writing = (edits: readonly LineEdit[]): string =>
  `Write ${inOrder(edits.map(({ text }) => text.trim())).join(' ')}`;

/** A place in the arc's line where words of one group stand once the edits are made. */
interface Slot {
  readonly column: number;
  readonly endColumn: number;
  /** What stands in front of the words there: a space where they are put in. */
  readonly lead: string;
  readonly words: readonly string[];
  /** What stands there now. */
  readonly before: string;
}

/**
 * The edits with the words of the arc's line in order: a word that was given another letter does not stay behind a word that
 * it belongs before. A line whose own words are in another order keeps it.
 */
export const arranged = (site: ArcSite, edits: readonly LineEdit[]): readonly LineEdit[] =>
  GROUPS.reduce((made, letters) => arrangedGroup(site, made, letters), edits);

const arrangedGroup = (site: ArcSite, edits: readonly LineEdit[], letters: string): readonly LineEdit[] => {
  const isOfGroup = (word: string): boolean => word !== '' && letters.includes(word[0].toUpperCase());
  const own = edits.filter(({ line, text }) => line === site.line && isOfGroup(text.trim()));
  if (own.length === 0) return edits;
  const written = writtenSlots(site).filter(({ before }) => isOfGroup(before));
  if (!isInOrder(written)) return edits;
  const isTouched = (slot: Slot): boolean =>
    edits.some(
      ({ line, column, endColumn }) => line === site.line && column < slot.endColumn && endColumn > slot.column,
    );
  const slots = [...written.filter((slot) => !isTouched(slot)), ...own.map((edit) => slotOf(site, edit))];
  slots.sort((a, b) => a.column - b.column || a.endColumn - b.endColumn);
  if (isInOrder(slots)) return edits;
  const words = inOrder(slots.flatMap((slot) => slot.words));
  const rest = edits.filter((edit) => !own.includes(edit));
  return [...rest, ...slots.flatMap((slot) => editOf(site, slot, words.splice(0, slot.words.length)))];
};

const isInOrder = (slots: readonly Slot[]): boolean => {
  const words = slots.flatMap((slot) => slot.words);
  return inOrder(words).every((word, place) => word === words[place]);
};

const writtenSlots = ({ block }: ArcSite): Slot[] =>
  Array.from({ length: block.wordCount }, (_, index) => {
    const text = block.wordText(index);
    const column = block.starts[index] - block.start;
    return { column, endColumn: block.ends[index] - block.start, lead: '', words: [text], before: text };
  });

const slotOf = (site: ArcSite, { column, endColumn, text }: LineEdit): Slot => {
  const words = text.trim();
  // Only numbers that are worked out come several in one edit; a computed word is one.
  const isComputed = /[#[]/.test(words);
  return {
    column,
    endColumn,
    lead: /^\s*/.exec(text)![0],
    words: isComputed ? [words] : words.split(/(?=[A-Z])/i).map((word) => word.trim()),
    before: site.source.lineText(site.line).slice(column, endColumn),
  };
};

const editOf = (
  { line, style }: ArcSite,
  { column, endColumn, lead, before }: Slot,
  words: readonly string[],
): LineEdit[] => {
  const text = lead + words.join(style.wordGap);
  return text === before ? [] : [{ line, column, endColumn, text }];
};

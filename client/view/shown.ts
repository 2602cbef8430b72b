// What of the path is shown and in which colours: the choice of the one who looks, kept with the view.
import { PathStyle } from '../../server/src/core/geometry/packedLayout.ts';
import type { Kept } from './kept.ts';

/** What the colours of the lines tell. */
export const COLOURED_BY = ['kind', 'tool', 'feed', 'depth', 'speed', 'time'] as const;
export type ColouredBy = (typeof COLOURED_BY)[number];

/** Kinds of line in the order of the legend. */
export const KINDS = [PathStyle.cut, PathStyle.arc, PathStyle.rapid, PathStyle.plunge, PathStyle.helix] as const;

/** What can be laid over the path or left out. */
export const EXTRAS = ['contour', 'offsets', 'findings', 'cutter'] as const;
export type Extra = (typeof EXTRAS)[number];

/** The choice; plain data. */
export interface Shown {
  readonly colouredBy: ColouredBy;
  /** Values of `PathStyle` that are left out. */
  readonly hiddenKinds: readonly number[];
  readonly hiddenExtras: readonly Extra[];
  /** Tool sections that are left out, by `sectionKeys`, and the program that this holds for. */
  readonly hiddenSections: readonly string[];
  readonly sectionsOf: string;
}

const EVERYTHING: Shown = {
  colouredBy: 'kind',
  hiddenKinds: [],
  hiddenExtras: [],
  hiddenSections: [],
  sectionsOf: '',
};

/** Reads a choice that was kept; what is missing or wrong is shown. */
export function readShown(value: unknown): Shown {
  const kept = (typeof value === 'object' && value !== null ? value : {}) as Partial<Record<keyof Shown, unknown>>;
  const among = <T>(list: unknown, known: readonly T[]): T[] =>
    known.filter((one) => Array.isArray(list) && list.includes(one));
  const { hiddenSections, sectionsOf } = kept;
  const isListed = Array.isArray(hiddenSections) && typeof sectionsOf === 'string';
  return {
    colouredBy: among([kept.colouredBy], COLOURED_BY)[0] ?? 'kind',
    hiddenKinds: among<number>(kept.hiddenKinds, KINDS),
    hiddenExtras: among(kept.hiddenExtras, EXTRAS),
    hiddenSections: isListed ? hiddenSections.filter((key) => typeof key === 'string') : [],
    sectionsOf: isListed ? sectionsOf : '',
  };
}

/** Kinds that are shown as bits: bit n for `PathStyle` n. */
export const kindBits = ({ hiddenKinds }: Shown): number =>
  KINDS.reduce((bits: number, kind) => (hiddenKinds.includes(kind) ? bits : bits | (1 << kind)), 0);

/** The list with the member, or without it. */
const withMember = <T>(list: readonly T[], member: T, isIn: boolean): readonly T[] => {
  const others = list.filter((one) => one !== member);
  return isIn ? [...others, member] : others;
};

/** Holds the choice of one view. */
export class ShownChoice {
  readonly #kept: Kept;
  readonly #changed: () => void;
  #shown: Shown;

  constructor(kept: Kept, changed: () => void) {
    this.#kept = kept;
    this.#changed = changed;
    this.#shown = readShown(kept.read('shown'));
  }

  get now(): Shown {
    return this.#shown;
  }

  /** Another program is shown from now on: its tool sections are its own. */
  begin(uri: string): void {
    if (uri !== this.#shown.sectionsOf) {
      this.#set({ hiddenSections: [], sectionsOf: uri });
    }
  }

  colourBy(colouredBy: ColouredBy): void {
    this.#set({ colouredBy });
  }

  /** Colours by the next thing in the list. */
  colourByNext(): void {
    const next = (COLOURED_BY.indexOf(this.#shown.colouredBy) + 1) % COLOURED_BY.length;
    this.#set({ colouredBy: COLOURED_BY[next] });
  }

  showKind(kind: number, isShown: boolean): void {
    this.#set({ hiddenKinds: withMember(this.#shown.hiddenKinds, kind, !isShown) });
  }

  showSection(key: string, isShown: boolean): void {
    this.#set({ hiddenSections: withMember(this.#shown.hiddenSections, key, !isShown) });
  }

  showExtra(extra: Extra, isShown: boolean): void {
    this.#set({ hiddenExtras: withMember(this.#shown.hiddenExtras, extra, !isShown) });
  }

  /** Shows everything; the colours stay. */
  showAll(): void {
    this.#set({ ...EVERYTHING, colouredBy: this.#shown.colouredBy, sectionsOf: this.#shown.sectionsOf });
  }

  shows(extra: Extra): boolean {
    return !this.#shown.hiddenExtras.includes(extra);
  }

  #set(change: Partial<Shown>): void {
    this.#shown = { ...this.#shown, ...change };
    this.#kept.write({ shown: this.#shown });
    this.#changed();
  }
}

// All fields of the form at once, in groups: what stands in them, where it comes from, what is wrong with it.
import type { FormField, FormResult } from '../../server/src/core/features/blockForm.ts';
import { type ColumnPart, inColumns } from './columns.ts';
import { type Entry, entryFor } from './entries.ts';
import { part } from './frame.ts';
import { counts, type FormValues } from './values.ts';

/** What the fields tell of. */
export interface FieldEvents {
  changed(): void;
  /** The keyboard is in this field now. */
  entered(field: FormField): void;
}

interface Row {
  readonly field: FormField;
  readonly group: string;
  readonly lines: number;
  readonly entry: Entry;
  readonly element: HTMLElement;
  readonly note: HTMLElement;
}

/** Least width of a column, and how many of them at most. */
const COLUMN_WIDTH = 205;
const MOST_COLUMNS = 4;

/** A computed value without what its field says anyway. */
const shortened = (text: string, unit: string): string =>
  text.replace(/\s*\(.*$/, '').replace(new RegExp(`\\s*${unit.replace('/', '\\/')}$`), '');

/** See the top of the file. */
export class Fields {
  readonly #into: HTMLElement;
  readonly #fields: readonly FormField[];
  readonly #values: FormValues;
  readonly #rows: readonly Row[];
  /** What the columns were shared out for. */
  #shared = '';

  constructor(into: HTMLElement, fields: readonly FormField[], values: FormValues, events: FieldEvents) {
    this.#into = into;
    this.#fields = fields;
    this.#values = values;
    // Fields of a group stand together, groups in the order that they are first named.
    const groups = [...new Set(fields.map(({ group }) => group))];
    this.#rows = groups.flatMap((group) =>
      fields.filter((field) => field.group === group).map((field) => this.#row(field, events)),
    );
    new ResizeObserver(() => this.#shareOut()).observe(into);
  }

  /** Labels of the fields that must be filled in and are not. */
  missing(problems: FormResult['problems']): string[] {
    return this.#rows.filter((row) => this.#isMissing(row, problems)).map(({ field }) => field.label);
  }

  /** The label of a field that is seen; undefined where a name has none. */
  labelOf(name: string): string | undefined {
    return this.#rows.find(({ field, element }) => field.name === name && !element.hidden)?.field.label;
  }

  /** Puts every value where it belongs, with its mistake, caution or origin. Where the user types, nothing is changed. */
  show({ problems, words, facts }: FormResult, hasTried: boolean): void {
    for (const row of this.#rows) {
      const { field, entry, element } = row;
      element.hidden = !counts(field, this.#fields, this.#values);
      entry.show(this.#values.shown(field));
      // A computed value stands in its own empty field: "Feed" of the facts in that of the feed.
      const computed = facts.find(({ name }) => name === field.name)?.text;
      const isMissing = this.#isMissing(row, problems);
      entry.hint(isMissing ? 'needed' : computed === undefined ? '' : shortened(computed, field.unit));
      const problem = problems.find(({ parameter }) => parameter === field.name)?.message;
      const caution = words.find(({ parameter }) => parameter === field.name)?.message;
      // What nobody has come to yet is no mistake.
      this.#note(row, isMissing && !hasTried ? undefined : problem, caution);
    }
    this.#shareOut();
  }

  /** Puts the keyboard into the first field that waits to be filled in, or the first of all. */
  focusFirst(): void {
    const seen = this.#rows.filter(({ element }) => !element.hidden);
    (seen.find(({ field }) => field.isNeeded && this.#values.shown(field).value === '') ?? seen[0])?.entry.focus();
  }

  /** Puts the keyboard into the first field with a mistake. */
  focusWrong(): void {
    this.#rows.find(({ element }) => element.classList.contains('wrong') && !element.hidden)?.entry.focus();
  }

  /** Empty, and the block cannot be without it. */
  #isMissing({ field, element }: Row, problems: FormResult['problems']): boolean {
    const isAsked = field.isNeeded || problems.some(({ parameter }) => parameter === field.name);
    return isAsked && !element.hidden && this.#values.shown(field).value === '';
  }

  #note({ field, entry, element, note }: Row, problem: string | undefined, caution: string | undefined): void {
    const { origin } = this.#values.shown(field);
    element.classList.toggle('wrong', problem !== undefined);
    element.classList.toggle('caution', problem === undefined && caution !== undefined);
    element.classList.toggle('foreign', origin === 'given' || origin === 'kept');
    entry.mark(problem !== undefined);
    const words = problem ?? caution ?? this.#values.source(field);
    if (note.textContent !== words) {
      note.textContent = words;
    }
  }

  /** Lays the fields out anew where others are seen than before or the width is another one; the keyboard stays. */
  #shareOut(): void {
    const seen = this.#rows.filter(({ element }) => !element.hidden);
    const count = Math.max(1, Math.min(MOST_COLUMNS, Math.floor(this.#into.clientWidth / COLUMN_WIDTH)));
    const shared = `${count} ${seen.map(({ field }) => field.name).join(' ')}`;
    if (shared === this.#shared || seen.length === 0) {
      return;
    }
    this.#shared = shared;
    const holder = document.activeElement;
    const columns = inColumns(seen, count).map((parts) => {
      const column = part('div', 'column');
      column.append(...parts.map(groupOf));
      return column;
    });
    this.#into.replaceChildren(...columns);
    if (holder instanceof HTMLElement && this.#into.contains(holder)) {
      holder.focus();
    }
  }

  #row(field: FormField, events: FieldEvents): Row {
    const element = part('div', `field ${field.kind}`);
    element.dataset.name = field.name;
    const note = part('div', 'note');
    note.id = `note-${field.name}`;
    const entry = entryFor(field, note.id, (value) => {
      this.#values.type(field.name, value);
      events.changed();
    });
    element.addEventListener('focusin', () => events.entered(field));
    element.addEventListener('focusout', () => entry.show(this.#values.shown(field), true));
    element.append(entry.label, entry.element, note);
    const lines = field.kind === 'choices' ? Math.ceil((field.choices?.length ?? 0) / 2) : 1;
    return { field, group: field.group, lines, entry, element, note };
  }
}

function groupOf({ group, isFirst, items }: ColumnPart<Row>): HTMLElement {
  const made = part('div', 'group');
  made.setAttribute('role', 'group');
  made.setAttribute('aria-label', group);
  if (isFirst) {
    made.append(part('h2', '', group));
  }
  made.append(...items.map(({ element }) => element));
  return made;
}

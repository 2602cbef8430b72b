// All fields of the form at once, in groups: what stands in them, where it comes from, what is wrong with it.
import type { FormField, FormResult } from '../../server/src/core/features/blockForm.ts';
import { Columns } from './columns.ts';
import { type Entry, entryFor } from './entries.ts';
import { part } from './frame.ts';
import { counts, type FormValues, fullLabel } from './values.ts';

/** What the fields tell of. */
export interface FieldEvents {
  changed(): void;
  /** The keyboard is in this field now. */
  entered(field: FormField): void;
}

interface Row {
  readonly field: FormField;
  readonly lines: number;
  readonly entry: Entry;
  readonly element: HTMLElement;
  readonly note: HTMLElement;
}

/** Fields under one heading. */
interface Group {
  readonly name: string;
  readonly element: HTMLElement;
  readonly rows: readonly Row[];
}

/** Least width of a column, and how many of them at most. */
const COLUMN_WIDTH = 205;
const MOST_COLUMNS = 4;

/** See the top of the file. */
export class Fields {
  readonly #into: HTMLElement;
  readonly #fields: readonly FormField[];
  readonly #values: FormValues;
  readonly #groups: readonly Group[];
  readonly #rows: readonly Row[];
  readonly #columns: Columns;
  /** What the columns were shared out for. */
  #shared = '';
  /** Values are known: before, other groups would be seen than those that the form opens with. */
  #isShown = false;

  constructor(into: HTMLElement, fields: readonly FormField[], values: FormValues, events: FieldEvents) {
    this.#into = into;
    this.#fields = fields;
    this.#values = values;
    // Fields of a group stand together, groups in the order that they are first named.
    const names = [...new Set(fields.map(({ group }) => group))];
    this.#groups = names.map((name) => {
      const rows = fields.filter(({ group }) => group === name).map((field) => this.#row(field, events));
      return { name, rows, element: groupOf(name, rows) };
    });
    this.#rows = this.#groups.flatMap(({ rows }) => rows);
    this.#columns = new Columns(names);
    new ResizeObserver(() => this.#shareOut()).observe(into);
  }

  /** Labels of the fields that must be filled in and are not. */
  missing(problems: FormResult['problems']): string[] {
    return this.#rows.filter((row) => this.#isMissing(row, problems)).map(({ field }) => this.#named(field));
  }

  /** Labels of the fields that a word of caution stands at. */
  cautioned(): string[] {
    return this.#rows
      .filter(({ element }) => element.matches('.caution:not([hidden])'))
      .map(({ field }) => this.#named(field));
  }

  /** The label of a field that is seen; undefined where a name has none. */
  labelOf(name: string): string | undefined {
    const row = this.#rows.find(({ field, element }) => field.name === name && !element.hidden);
    return row && this.#named(row.field);
  }

  /** Puts every value where it belongs, with its mistake, caution or origin. Where the user types, nothing is changed. */
  show({ problems, words }: FormResult, hasTried: boolean): void {
    for (const row of this.#rows) {
      const { field, entry, element } = row;
      element.hidden = !counts(field, this.#fields, this.#values);
      entry.show(this.#values.shown(field));
      const isMissing = this.#isMissing(row, problems);
      entry.hint(isMissing ? 'needed' : (this.#values.taken(field) ?? ''));
      const problem = problems.find(({ parameter }) => parameter === field.name)?.message;
      const caution = words.find(({ parameter }) => parameter === field.name)?.message;
      // What nobody has come to yet is no mistake.
      this.#note(row, isMissing && !hasTried ? undefined : problem, caution);
    }
    this.#isShown = true;
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

  #named(field: FormField): string {
    return fullLabel(field, this.#fields);
  }

  /** Empty, and the block cannot be without it. */
  #isMissing({ field, element }: Row, problems: FormResult['problems']): boolean {
    const isAsked = field.isNeeded || problems.some(({ parameter }) => parameter === field.name);
    return isAsked && !element.hidden && this.#values.shown(field).value === '';
  }

  #note({ field, entry, element, note }: Row, problem: string | undefined, caution: string | undefined): void {
    const { origin } = this.#values.shown(field);
    const isCaution = problem === undefined && caution !== undefined;
    element.classList.toggle('wrong', problem !== undefined);
    element.classList.toggle('caution', isCaution);
    element.classList.toggle('foreign', origin === 'given' || origin === 'kept');
    entry.mark(problem !== undefined);
    const words = problem ?? (isCaution ? `Caution: ${caution}` : this.#values.source(field));
    if (note.textContent !== words) {
      note.textContent = words;
    }
  }

  /** Lays the groups out anew where others are seen than before or the width is another one; the keyboard stays. */
  #shareOut(): void {
    for (const { element, rows } of this.#groups) {
      element.hidden = rows.every((row) => row.element.hidden);
    }
    const seen = this.#groups.filter(({ element }) => !element.hidden);
    const count = Math.max(1, Math.min(MOST_COLUMNS, Math.floor(this.#into.clientWidth / COLUMN_WIDTH)));
    const shared = `${count} ${seen.map(({ name }) => name).join('\n')}`;
    if (!this.#isShown || shared === this.#shared || seen.length === 0) {
      return;
    }
    this.#shared = shared;
    const holder = document.activeElement;
    const columns = this.#columns.place(seen.map(sizeOf), count).map((names) => {
      const column = part('div', 'column');
      column.append(...names.flatMap((name) => this.#groups.find((group) => group.name === name)?.element ?? []));
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
    return { field, lines, entry, element, note };
  }
}

/** The height of what is seen of a group, its heading and the notes under its fields included. */
const sizeOf = ({ name, rows }: Group): { name: string; lines: number } => {
  const lines = rows.map(({ element, note, lines: own }) =>
    element.hidden ? 0 : own + (note.textContent === '' ? 0 : 0.7),
  );
  return { name, lines: Math.ceil(1.4 + lines.reduce((sum, line) => sum + line, 0)) };
};

function groupOf(name: string, rows: readonly Row[]): HTMLElement {
  const made = part('div', 'group');
  made.setAttribute('role', 'group');
  made.setAttribute('aria-label', name);
  made.append(part('h2', '', name), ...rows.map(({ element }) => element));
  return made;
}

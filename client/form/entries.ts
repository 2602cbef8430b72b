// What is typed or chosen in: a text, a list to choose from, a tick, several ticks.
import type { FormField } from '../../server/src/core/features/blockForm.ts';
import { part } from './frame.ts';
import { type ShownValue, words } from './values.ts';

/** One field's entry. */
export interface Entry {
  readonly label: HTMLElement;
  readonly element: HTMLElement;
  /** Shows a value; a text in which the user is just now stays, unless he leaves it. */
  show(value: ShownValue, isLeft?: boolean): void;
  /** Says what is computed where nothing is given. */
  hint(text: string): void;
  /** Says to those who hear the page whether the value is wrong. */
  mark(isWrong: boolean): void;
  focus(): void;
}

/** Told of every value that the user enters. */
type Told = (value: string) => void;

const EXAMPLES: Partial<Record<FormField['kind'], string>> = {
  point: 'X,Y',
  points: 'X,Y; X,Y',
  thread: 'M10, G1/4, 1/4-20 UNC',
};

/** Makes the entry of a field; `noteId` is the element that says what is wrong with it. */
export function entryFor(field: FormField, noteId: string, told: Told): Entry {
  switch (field.kind) {
    case 'yes-no':
      return tick(field, noteId, told);
    case 'choice':
      return list(field, noteId, told);
    case 'choices':
      return ticks(field, noteId, told);
    default:
      return textEntry(field, noteId, told);
  }
}

const idOf = (field: FormField): string => `field-${field.name}`;

function labelFor(field: FormField): HTMLLabelElement {
  const label = part('label', '', field.label);
  label.htmlFor = idOf(field);
  label.title = field.help;
  return label;
}

function describe(element: HTMLElement, noteId: string): void {
  element.setAttribute('aria-describedby', `${noteId} help`);
}

function textEntry(field: FormField, noteId: string, told: Told): Entry {
  const input = part('input');
  input.id = idOf(field);
  input.type = 'text';
  input.spellcheck = false;
  input.autocomplete = 'off';
  const usual = EXAMPLES[field.kind] ?? '';
  input.placeholder = usual;
  input.required = field.isNeeded;
  if (field.kind === 'number') {
    input.inputMode = 'decimal';
  }
  describe(input, noteId);
  input.addEventListener('input', () => told(input.value));
  const element = part('span', 'entry');
  element.append(input, part('span', 'unit', field.unit), ...suggestionsFor(field, input));
  return {
    label: labelFor(field),
    element,
    show: ({ value }, isLeft = false) => {
      if ((isLeft || document.activeElement !== input) && input.value !== value) {
        input.value = value;
      }
    },
    hint: (text) => {
      input.placeholder = text === '' || (text === 'needed' && usual !== '') ? usual : text;
    },
    mark: (isWrong) => input.setAttribute('aria-invalid', String(isWrong)),
    focus: () => {
      input.focus();
      input.select();
    },
  };
}

/** Texts to choose from while one is typed. */
function suggestionsFor({ name, suggestions }: FormField, input: HTMLInputElement): HTMLElement[] {
  if (suggestions === undefined) {
    return [];
  }
  const texts = part('datalist');
  texts.id = `texts-${name}`;
  texts.append(
    ...suggestions.map((text) => {
      const option = part('option');
      option.value = text;
      return option;
    }),
  );
  input.setAttribute('list', texts.id);
  return [texts];
}

/** What a choice shows where nothing is chosen. */
const NO_CHOICE = '–';

function list(field: FormField, noteId: string, told: Told): Entry {
  const select = part('select');
  select.id = idOf(field);
  const choices = field.choices ?? [];
  const all = field.fallback === undefined ? [{ value: '', label: NO_CHOICE }, ...choices] : choices;
  for (const { value, label } of all) {
    const option = part('option', '', label);
    option.value = value;
    select.append(option);
  }
  describe(select, noteId);
  select.addEventListener('change', () => told(select.value));
  const element = part('span', 'entry');
  element.append(select);
  return {
    label: labelFor(field),
    element,
    show: ({ value }) => {
      select.value = value.toLowerCase();
      // A narrow field shows the beginning of its words.
      select.title = select.selectedOptions[0]?.textContent ?? '';
    },
    hint: (text) => {
      const free = select.options[0];
      if (free?.value === '') {
        const taken = choices.find(({ value }) => value === text)?.label;
        free.textContent = taken === undefined ? (text === 'needed' ? 'choose' : NO_CHOICE) : `(${taken})`;
      }
      select.classList.toggle('empty', select.value === '');
    },
    mark: (isWrong) => select.setAttribute('aria-invalid', String(isWrong)),
    focus: () => select.focus(),
  };
}

const YES = ['yes', 'y', 'true', 'on', '1'];

function tick(field: FormField, noteId: string, told: Told): Entry {
  const box = part('input');
  box.id = idOf(field);
  box.type = 'checkbox';
  describe(box, noteId);
  box.addEventListener('change', () => told(box.checked ? 'yes' : 'no'));
  const element = part('span', 'entry');
  element.append(box);
  return {
    label: labelFor(field),
    element,
    show: ({ value }) => {
      box.checked = YES.includes(value.toLowerCase());
    },
    hint: () => undefined,
    mark: (isWrong) => box.setAttribute('aria-invalid', String(isWrong)),
    focus: () => box.focus(),
  };
}

function ticks(field: FormField, noteId: string, told: Told): Entry {
  const element = part('span', 'entry ticks');
  element.setAttribute('role', 'group');
  element.setAttribute('aria-label', field.label);
  describe(element, noteId);
  const boxes = (field.choices ?? []).map(({ value, label }) => {
    const box = part('input');
    box.type = 'checkbox';
    box.value = value;
    const around = part('label');
    around.append(box, label);
    element.append(around);
    return box;
  });
  // A list without words is a mistake to be told of; an empty text would stand for the usual ones.
  const chosen = (): string => boxes.flatMap((box) => (box.checked ? [box.value] : [])).join(',') || ',';
  for (const box of boxes) {
    box.addEventListener('change', () => told(chosen()));
  }
  const label = part('span', 'label', field.label);
  label.title = field.help;
  return {
    label,
    element,
    show: ({ value }) => {
      const now = words(value);
      for (const box of boxes) {
        box.checked = now.includes(box.value);
      }
    },
    hint: () => undefined,
    mark: (isWrong) => element.setAttribute('aria-invalid', String(isWrong)),
    focus: () => boxes[0]?.focus(),
  };
}

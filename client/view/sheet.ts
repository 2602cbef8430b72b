// The sheet at the right edge on which the one who looks says what is shown and what the colours tell.
import type { PathSection } from '../../server/src/core/geometry/pathSummary.ts';
import { type Scale, toolColour } from './colouredBy.ts';
import { kindSample, toolText } from './legend.ts';
import { COLOURED_BY, type ColouredBy, EXTRAS, type Extra, KINDS, type ShownChoice } from './shown.ts';
import type { Theme } from './theme.ts';
import { sectionKeys } from './toolSections.ts';

const COLOUR_WORDS: Readonly<Record<ColouredBy, string>> = {
  kind: 'kind of move',
  tool: 'tool',
  feed: 'feed',
  depth: 'depth (Z)',
  speed: 'spindle speed',
  time: 'time',
};
const EXTRA_WORDS: Readonly<Record<Extra, string>> = {
  contour: 'Contour as programmed (fine dots)',
  offsets: 'Work offsets at their zero',
  findings: 'Findings',
  cutter: 'Cutter at the end of the lit block',
};

/** What the sheet shows. */
export interface SheetState {
  readonly scale: Scale;
  readonly theme: Theme;
  readonly inch: boolean;
  readonly sections: readonly PathSection[];
  /** Sections that are not listed. */
  readonly moreSections: number;
  /** The program that is laid over this one. */
  readonly other: string | undefined;
}

/** See the top of the file. */
export class Sheet {
  readonly #element = document.createElement('aside');
  readonly #button: HTMLButtonElement;
  readonly #choice: ShownChoice;
  readonly #layOver: (isOn: boolean) => void;
  /** What the sheet was built for; it is built anew only when that changes, so that the keyboard keeps its place. */
  #built = '';
  #isOver = false;

  /** `layOver` asks for another program over this one, or takes it off. */
  constructor(button: HTMLButtonElement, into: HTMLElement, choice: ShownChoice, layOver: (isOn: boolean) => void) {
    this.#button = button;
    this.#choice = choice;
    this.#layOver = layOver;
    this.#element.className = 'sheet';
    this.#element.id = 'shown-sheet';
    this.#element.setAttribute('aria-label', 'What is shown');
    this.#element.hidden = true;
    button.setAttribute('aria-controls', this.#element.id);
    button.setAttribute('aria-expanded', 'false');
    button.addEventListener('click', () => this.toggle());
    this.#element.addEventListener('keydown', (event) => {
      if (event.key === 'Escape') {
        this.toggle();
      }
    });
    into.append(this.#element);
  }

  /** Opens the sheet and puts the keyboard into it, or closes it and gives the keyboard back to its button. */
  toggle(): void {
    const isOpen = this.#element.hidden;
    this.#element.hidden = !isOpen;
    this.#button.setAttribute('aria-expanded', String(isOpen));
    if (isOpen) {
      this.#element.querySelector('select')?.focus();
    } else {
      this.#button.focus();
    }
  }

  /** Shows what is shown now. */
  show(state: SheetState): void {
    const { sections, moreSections, inch, other, scale, theme } = state;
    const texts = sections.map(({ tool, firstLine }) => `${toolText(tool, inch)}, from line ${firstLine + 1}`);
    const colours = scale.by === 'tool' ? scale.tools.join() : scale.by;
    const built = [...texts, moreSections, other, colours, theme.path, theme.tools].join('\n');
    if (built !== this.#built) {
      const focused = this.#nameOfFocused();
      this.#build(state, texts);
      this.#built = built;
      this.#isOver = other !== undefined;
      this.#fieldNamed(focused)?.focus();
    }
    this.#check();
  }

  #build(state: SheetState, texts: readonly string[]): void {
    const { sections, moreSections, scale, theme, other } = state;
    const keys = sectionKeys(sections);
    const colour = (kind: number): string => (scale.by === 'kind' ? theme.path[kind] : theme.contour);
    const tools = keys.map((key, i) => {
      const label = document.createElement('span');
      label.className = scale.by === 'tool' ? 'kind swatch' : 'plain';
      const own = scale.by === 'tool' ? toolColour(scale.tools, sections[i].tool.number, theme) : undefined;
      label.style.setProperty('--line', own ?? theme.contour);
      label.textContent = texts[i];
      return this.#box(`section ${key}`, label, (isOn) => this.#choice.showSection(key, isOn));
    });
    if (moreSections > 0) {
      tools.push(words(`${moreSections} more tool changes are not listed; they are shown.`));
    }
    this.#element.replaceChildren(
      this.#colourField(),
      group(
        'Lines',
        KINDS.map((kind) =>
          this.#box(`kind ${kind}`, kindSample(kind, colour(kind)), (isOn) => this.#choice.showKind(kind, isOn)),
        ),
      ),
      group('Tools', tools),
      group(
        'Beside the path',
        EXTRAS.map((extra) =>
          this.#box(`extra ${extra}`, words(EXTRA_WORDS[extra]), (isOn) => this.#choice.showExtra(extra, isOn)),
        ),
      ),
      this.#press('over', other === undefined ? 'Lay another program over…' : `Take off ${other}`, () =>
        this.#layOver(!this.#isOver),
      ),
      this.#press('all', 'Show everything', () => this.#choice.showAll()),
    );
  }

  #colourField(): HTMLElement {
    const label = document.createElement('label');
    const select = document.createElement('select');
    label.className = 'sheet-line';
    select.className = 'tool sheet-tool';
    select.name = 'colour';
    select.title = 'What the colours tell (K: the next)';
    for (const by of COLOURED_BY) {
      select.add(new Option(COLOUR_WORDS[by], by));
    }
    select.addEventListener('change', () => this.#choice.colourBy(select.value as ColouredBy));
    label.append('Colour by ', select);
    return label;
  }

  #box(name: string, content: HTMLElement, changed: (isOn: boolean) => void): HTMLElement {
    const label = document.createElement('label');
    const box = document.createElement('input');
    label.className = 'sheet-line';
    box.type = 'checkbox';
    box.name = name;
    box.addEventListener('change', () => changed(box.checked));
    label.append(box, content);
    return label;
  }

  #press(name: string, text: string, pressed: () => void): HTMLButtonElement {
    const button = document.createElement('button');
    button.type = 'button';
    button.className = 'tool sheet-tool sheet-press';
    button.name = name;
    button.textContent = text;
    button.addEventListener('click', pressed);
    return button;
  }

  /** Sets the fields to what holds now. */
  #check(): void {
    const { colouredBy, hiddenKinds, hiddenSections, hiddenExtras } = this.#choice.now;
    const select = this.#element.querySelector('select');
    if (select) {
      select.value = colouredBy;
    }
    const hidden = new Set([
      ...hiddenKinds.map((kind) => `kind ${kind}`),
      ...hiddenSections.map((key) => `section ${key}`),
      ...hiddenExtras.map((extra) => `extra ${extra}`),
    ]);
    for (const box of this.#element.querySelectorAll('input')) {
      box.checked = !hidden.has(box.name);
    }
  }

  #nameOfFocused(): string {
    const focused = document.activeElement;
    return this.#element.contains(focused) ? (focused?.getAttribute('name') ?? '') : '';
  }

  #fieldNamed(name: string): HTMLElement | undefined {
    const fields = [...this.#element.querySelectorAll<HTMLElement>('[name]')];
    return name === '' ? undefined : fields.find((field) => field.getAttribute('name') === name);
  }
}

function group(title: string, fields: readonly HTMLElement[]): HTMLElement {
  const made = document.createElement('fieldset');
  const legend = document.createElement('legend');
  legend.textContent = title;
  made.append(legend, ...fields);
  made.hidden = fields.length === 0;
  return made;
}

function words(text: string): HTMLElement {
  const made = document.createElement('span');
  made.className = 'plain';
  made.textContent = text;
  return made;
}

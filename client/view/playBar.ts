// The bar of the playback: one button until it is used, then buttons, slider, clock, rate, stops and what holds now.
import { RATES } from './clock.ts';
import { setParts, setText } from './readout.ts';

/** What the bar asks for. */
export interface PlayActions {
  close(): void;
  playOrPause(): void;
  step(by: 1 | -1): void;
  goTo(end: 'start' | 'end'): void;
  scrub(seconds: number): void;
  setRate(rate: number): void;
  /** Stops at tool changes, or at M1, are switched on or off. */
  stopAt(which: StopSwitch, isOn: boolean): void;
}

export type StopSwitch = 'atToolChanges' | 'atOptional';

/** What the bar shows. */
export interface PlayShown {
  /** False until the times of the path are there. */
  readonly isReady: boolean;
  readonly isRunning: boolean;
  readonly seconds: number;
  readonly total: number;
  readonly elapsed: string;
  readonly remaining: string;
  readonly texts: readonly string[];
  /** Why it has stopped, or what is missing. */
  readonly words: string;
}

/** Shapes of the buttons, in a square of 16. */
const SHAPES = {
  play: 'M4 2 L13 8 L4 14 Z',
  pause: 'M4 2 H7 V14 H4 Z M9 2 H12 V14 H9 Z',
  on: 'M3 3 L10 8 L3 13 Z M11 3 H13 V13 H11 Z',
  back: 'M13 3 L6 8 L13 13 Z M3 3 H5 V13 H3 Z',
  start: 'M14 3 L8 8 L14 13 Z M8 3 L2 8 L8 13 Z',
  end: 'M2 3 L8 8 L2 13 Z M8 3 L14 8 L8 13 Z',
} as const;

/** See the top of the file. */
export class PlayBar {
  readonly #into: HTMLElement;
  readonly #actions: PlayActions;
  readonly #opener: HTMLButtonElement;
  readonly #controls = document.createElement('div');
  readonly #play: HTMLButtonElement;
  readonly #moving: readonly HTMLButtonElement[];
  readonly #slider = document.createElement('input');
  readonly #clock = document.createElement('span');
  readonly #rate: HTMLSelectElement;
  readonly #stops: ReadonlyMap<StopSwitch, HTMLInputElement>;
  readonly #now = document.createElement('div');
  readonly #words = document.createElement('div');

  /** Builds the bar, folded, into an element. */
  constructor(into: HTMLElement, actions: PlayActions) {
    this.#into = into;
    this.#actions = actions;
    this.#opener = button('play', OPEN, () => actions.playOrPause());
    this.#play = button('play', PLAY, () => actions.playOrPause());
    this.#moving = [
      button('start', { label: 'To the start', key: 'Home' }, () => actions.goTo('start')),
      button('back', { label: 'One block back', key: ',' }, () => actions.step(-1)),
      button('on', { label: 'One block on', key: '.' }, () => actions.step(1)),
      button('end', { label: 'To the end', key: 'End' }, () => actions.goTo('end')),
    ];
    this.#rate = this.#makeRate();
    this.#stops = new Map([
      ['atToolChanges', this.#check('atToolChanges', 'tool changes', 'Stop where the tool is changed')],
      ['atOptional', this.#check('atOptional', 'M1', 'Stop at optional stops (M1); at M0 it always stops')],
    ]);
    this.#build();
    this.fold(true);
  }

  /** Shows the one button only, or everything. */
  fold(isFolded: boolean): void {
    const hadKeyboard = this.#into.contains(document.activeElement);
    this.#opener.hidden = !isFolded;
    for (const part of [this.#controls, this.#now, this.#words]) {
      part.hidden = isFolded;
    }
    if (hadKeyboard) {
      (isFolded ? this.#opener : this.#play).focus();
    }
  }

  /** The rate and the stops as they are chosen. */
  choose(rate: number, stops: Readonly<Record<StopSwitch, boolean>>): void {
    this.#rate.value = String(rate);
    for (const [which, box] of this.#stops) {
      box.checked = stops[which];
    }
  }

  show({ isReady, isRunning, seconds, total, elapsed, remaining, texts, words }: PlayShown): void {
    const says = isRunning ? PAUSE : PLAY;
    if (this.#play.getAttribute('aria-label') !== says.label) {
      draw(this.#play, isRunning ? 'pause' : 'play', says);
    }
    for (const each of [this.#play, ...this.#moving, this.#slider]) {
      each.disabled = !isReady;
    }
    this.#slider.max = String(total);
    this.#slider.value = String(seconds);
    this.#slider.setAttribute('aria-valuetext', `${elapsed} run, ${remaining} to go`);
    setText(this.#clock, `${elapsed} run, ${remaining} to go`);
    setParts(this.#now, texts);
    setText(this.#words, words);
  }

  #build(): void {
    const [start, back, on, end] = this.#moving;
    const close = document.createElement('button');
    close.type = 'button';
    close.className = 'tool';
    close.textContent = 'Close';
    close.setAttribute('aria-label', 'Close the playback');
    close.title = 'End the playback: the whole path is drawn in full again';
    close.addEventListener('click', () => this.#actions.close());
    this.#slider.type = 'range';
    this.#slider.min = '0';
    this.#slider.step = 'any';
    this.#slider.setAttribute('aria-label', 'Time of the run');
    this.#slider.title = 'Time of the run: drag to any place';
    this.#slider.addEventListener('input', () => this.#actions.scrub(this.#slider.valueAsNumber));
    this.#clock.className = 'clock';
    const stops = document.createElement('span');
    stops.className = 'stops';
    stops.append('Stop at', ...[...this.#stops.values()].map((box) => box.parentElement ?? box));
    this.#controls.className = 'controls';
    this.#controls.append(start, back, this.#play, on, end, this.#slider, this.#clock, this.#rate, stops, close);
    this.#controls.setAttribute('role', 'toolbar');
    this.#controls.setAttribute('aria-label', 'Playback');
    this.#now.className = 'now';
    this.#words.className = 'words';
    this.#words.setAttribute('role', 'status');
    this.#into.append(this.#opener, this.#controls, this.#now, this.#words);
  }

  #makeRate(): HTMLSelectElement {
    const select = document.createElement('select');
    select.className = 'tool';
    select.title = 'How many times as fast as the machine';
    select.setAttribute('aria-label', select.title);
    for (const rate of RATES) {
      select.add(new Option(`${rate}×`, String(rate)));
    }
    select.addEventListener('change', () => this.#actions.setRate(Number(select.value)));
    return select;
  }

  #check(which: StopSwitch, words: string, title: string): HTMLInputElement {
    const label = document.createElement('label');
    label.title = title;
    const box = document.createElement('input');
    box.type = 'checkbox';
    box.addEventListener('change', () => this.#actions.stopAt(which, box.checked));
    label.append(box, words);
    return box;
  }
}

/** What a button does, and the key that does it as well. */
interface Says {
  readonly label: string;
  readonly key: string;
}

const OPEN: Says = { label: 'Play the run of the program', key: 'Space' };
const PLAY: Says = { label: 'Play', key: 'Space' };
const PAUSE: Says = { label: 'Pause', key: 'Space' };

function button(shape: keyof typeof SHAPES, says: Says, act: () => void): HTMLButtonElement {
  const made = document.createElement('button');
  made.type = 'button';
  made.className = 'tool shape';
  made.addEventListener('click', act);
  draw(made, shape, says);
  return made;
}

const SVG = 'http://www.w3.org/2000/svg';

function draw(on: HTMLButtonElement, shape: keyof typeof SHAPES, { label, key }: Says): void {
  const picture = document.createElementNS(SVG, 'svg');
  picture.setAttribute('viewBox', '0 0 16 16');
  picture.setAttribute('aria-hidden', 'true');
  const path = document.createElementNS(SVG, 'path');
  path.setAttribute('d', SHAPES[shape]);
  picture.append(path);
  on.replaceChildren(picture);
  on.title = `${label} (${key})`;
  on.setAttribute('aria-label', label);
  on.setAttribute('aria-keyshortcuts', key);
}

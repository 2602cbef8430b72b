// What the lines and their colours mean, in one row beside the buttons.

import { PathStyle } from '../../server/src/core/geometry/packedLayout.ts';
import type { PathTool } from '../../server/src/core/geometry/pathSummary.ts';
import { type Amounts, partOf, type Scale, toolColour } from './colouredBy.ts';
import { rampColour } from './colours.ts';
import { lengthText, unitName } from './numbers.ts';
import { KINDS } from './shown.ts';
import type { Theme } from './theme.ts';

/** The word for each kind of line, which is its class as well. */
const KIND_WORDS: Readonly<Record<number, string>> = {
  [PathStyle.cut]: 'straight',
  [PathStyle.arc]: 'arc',
  [PathStyle.rapid]: 'rapid',
  [PathStyle.plunge]: 'plunge',
  [PathStyle.helix]: 'helix',
};
/** Colours of the strip that shows a scale. */
const STRIP_COLOURS = 9;
const MM_PER_INCH = 25.4;

/** A piece of line with its word, as the kind is drawn; grey where colours tell something else. */
export function kindSample(kind: number, colour: string): HTMLElement {
  const word = KIND_WORDS[kind];
  const sample = span(`kind ${word}`, word);
  sample.style.setProperty('--line', colour);
  return sample;
}

/** How a tool is named: its number, then what the tool table or the remark says. */
export function toolText({ number, description, kind, diameter }: PathTool, inch: boolean): string {
  const said = description || (kind ?? '').replaceAll('-', ' ');
  const size = description || diameter === undefined ? '' : `⌀${lengthText(diameter, inch)}`;
  return [number < 0 ? 'tool not known' : `T${number}`, said, size].filter(Boolean).join(' ');
}

/** An amount of a scale in the program's units, without the unit. */
export function amountText(by: Amounts['by'], amount: number, inch: boolean): string {
  if (by === 'depth') {
    return lengthText(amount, inch);
  }
  if (by === 'time') {
    const seconds = Math.round(amount);
    const two = (number: number): string => String(number).padStart(2, '0');
    const [hours, minutes] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60];
    return `${hours > 0 ? `${hours}:${two(minutes)}` : minutes}:${two(seconds % 60)}`;
  }
  const shown = by === 'feed' && inch ? amount / MM_PER_INCH : amount;
  return String(Number(shown.toFixed(by === 'feed' && inch ? 2 : 1)));
}

/** The unit of a scale. */
export function amountUnit(by: Amounts['by'], inch: boolean): string {
  const units = { feed: `${unitName(inch)}/min`, speed: 'rev/min', depth: unitName(inch), time: '' };
  return units[by];
}

const NAMES: Readonly<Record<Amounts['by'], string>> = { feed: 'Feed', speed: 'Speed', depth: 'Z', time: 'Time' };

/** Builds the legend of a scale into an element. */
export function showLegend(into: HTMLElement, scale: Scale, theme: Theme, inch: boolean): void {
  into.replaceChildren(...partsOf(scale, theme, inch));
}

function partsOf(scale: Scale, theme: Theme, inch: boolean): HTMLElement[] {
  if (scale.by === 'kind') {
    return KINDS.map((kind) => kindSample(kind, theme.path[kind]));
  }
  if (scale.by === 'tool') {
    return scale.tools.map((tool) =>
      swatch(toolColour(scale.tools, tool, theme) ?? theme.contour, tool < 0 ? 'tool not known' : `T${tool}`),
    );
  }
  const title = span('amounts', NAMES[scale.by]);
  if (!(scale.least <= scale.greatest)) {
    title.textContent = `${NAMES[scale.by]} is not known`;
    return [title];
  }
  const unit = span('amounts', amountUnit(scale.by, inch));
  const text = (amount: number): string => amountText(scale.by, amount, inch);
  if (scale.values) {
    const values = scale.values.map((value) => swatch(rampColour(theme.ramp, partOf(scale, value)), text(value)));
    return [title, ...values, unit];
  }
  return [title, span('amounts', text(scale.least)), strip(theme), span('amounts', text(scale.greatest)), unit];
}

function strip(theme: Theme): HTMLElement {
  const colours = Array.from({ length: STRIP_COLOURS }, (_, i) => rampColour(theme.ramp, i / (STRIP_COLOURS - 1)));
  const made = span('strip', '');
  made.style.background = `linear-gradient(to right, ${colours.join(', ')})`;
  return made;
}

function swatch(colour: string, text: string): HTMLElement {
  const made = span('kind swatch', text);
  made.style.setProperty('--line', colour);
  return made;
}

function span(className: string, text: string): HTMLElement {
  const made = document.createElement('span');
  made.className = className;
  made.textContent = text;
  return made;
}

// The parts of the form's page: what it is above, fields and what they come to beside each other, the two buttons below.
import type { BlockForm } from '../../server/src/core/features/blockForm.ts';

/** The page's parts. */
export interface Frame {
  readonly fields: HTMLElement;
  readonly outcome: HTMLElement;
  /** How long the block takes. */
  readonly time: HTMLElement;
  /** What keeps the block from being written, and cautions that belong to no field. */
  readonly remarks: HTMLElement;
  readonly factsTitle: HTMLElement;
  readonly facts: HTMLElement;
  readonly text: HTMLElement;
  readonly textTitle: HTMLElement;
  /** Words on the field that the keyboard is in. */
  readonly help: HTMLElement;
  readonly status: HTMLElement;
  readonly insert: HTMLButtonElement;
  /** What that button does. */
  readonly insertWord: HTMLElement;
  readonly cancel: HTMLButtonElement;
}

/** What the form is for. */
interface Purpose {
  readonly program: string;
  readonly line: number;
}

/** An element with a class and a text. */
export function part<Tag extends keyof HTMLElementTagNameMap>(
  tag: Tag,
  className = '',
  text = '',
): HTMLElementTagNameMap[Tag] {
  const element = document.createElement(tag);
  if (className !== '') {
    element.className = className;
  }
  element.textContent = text;
  return element;
}

/** Builds the page into an element. */
export function buildFrame(into: HTMLElement, form: BlockForm, purpose: Purpose): Frame {
  const head = part('header', 'head');
  const place = `${purpose.program}, line ${purpose.line}, in ${form.inch ? 'inches' : 'mm'}`;
  head.append(part('h1', '', form.title), part('span', 'place', place), part('p', 'summary', form.summary));
  const fields = part('div', 'fields');
  const outcome = part('div', 'outcome');
  const [time, remarks] = [part('p', 'time'), part('div', 'remarks')];
  const [factsTitle, facts] = [part('h2', '', 'Computed'), part('dl', 'facts')];
  const [textTitle, text] = [part('h2', '', 'Text'), part('pre', 'block')];
  // It scrolls as a whole, and without a mouse too.
  outcome.tabIndex = 0;
  outcome.setAttribute('role', 'region');
  outcome.setAttribute('aria-label', 'What it comes to');
  text.setAttribute('aria-label', 'Text of the block');
  text.setAttribute('role', 'group');
  remarks.setAttribute('role', 'status');
  const [said, computed, written] = [part('div', 'said'), part('div', 'computed'), part('div', 'written')];
  said.append(time, remarks);
  computed.append(factsTitle, facts);
  written.append(textTitle, text);
  outcome.append(said, computed, written);
  const body = part('div', 'body');
  body.append(fields, outcome);
  const foot = part('footer', 'foot');
  const [help, status] = [part('div', 'help'), part('div', 'status')];
  help.id = 'help';
  status.setAttribute('role', 'status');
  const insertWord = part('span', '', 'Insert');
  const insert = button('primary', insertWord, 'Enter');
  const cancel = button('', part('span', '', 'Cancel'), 'Esc');
  const words = part('div', 'words');
  words.append(help, status);
  foot.append(words, insert, cancel);
  into.replaceChildren(head, body, foot);
  return {
    fields,
    outcome,
    time,
    remarks,
    factsTitle,
    facts,
    text,
    textTitle,
    help,
    status,
    insert,
    insertWord,
    cancel,
  };
}

function button(className: string, label: HTMLElement, key: string): HTMLButtonElement {
  const made = part('button', className);
  made.append(label);
  made.type = 'button';
  const shown = part('kbd', '', key);
  shown.setAttribute('aria-hidden', 'true');
  made.append(shown);
  return made;
}

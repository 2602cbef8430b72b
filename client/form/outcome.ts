// What the values come to: computed values, cautions, the text, and what keeps the block from being written.
import type { FormField, FormResult } from '../../server/src/core/features/blockForm.ts';
import { changesOf, difference } from './difference.ts';
import { type Frame, part } from './frame.ts';
import type { Replaced } from './messages.ts';

/** More lines of a text are not shown. */
const MOST_LINES = 600;

/** What is shown. */
export interface OutcomeState {
  readonly result: FormResult;
  readonly replaced: Replaced | undefined;
  /** Line that the block begins at, from 1. */
  readonly line: number;
  /** Labels of the fields that are still to be filled in. */
  readonly missing: readonly string[];
  /** Labels of the fields that a word of caution stands at. */
  readonly cautioned: readonly string[];
  /** The label of a field that is seen. */
  named(name: string): string | undefined;
}

/** See the top of the file. */
export class Outcome {
  readonly #frame: Frame;

  readonly #program: string;

  /** `program` is the name of its file. */
  constructor(frame: Frame, program: string) {
    this.#frame = frame;
    this.#program = program;
  }

  /** Shows what the newest values came to. */
  show(state: OutcomeState): void {
    this.#showFacts(state.result);
    this.#showRemarks(state);
    this.#showText(state);
    this.#showStatus(state);
  }

  /** Words on the field that the keyboard is in. */
  help(field: FormField): void {
    this.#frame.help.textContent = field.help;
  }

  /** The extension could not do what was asked. */
  trouble(text: string): void {
    this.#status(text, 'wrong');
  }

  /** Brings the lines that would be lost before the user's eyes. */
  showDifference(): void {
    this.#frame.text.querySelector('.goes, .comes')?.scrollIntoView({ block: 'nearest' });
  }

  #showFacts({ facts }: FormResult): void {
    const time = facts.find(({ name }) => name === 'time');
    this.#frame.time.hidden = time === undefined;
    this.#frame.time.textContent = time === undefined ? '' : `${time.label}: ${time.text}`;
    const others = facts.filter((fact) => fact !== time);
    this.#frame.factsTitle.hidden = others.length === 0;
    this.#frame.facts.replaceChildren(
      ...others.flatMap(({ label, text }) => [part('dt', '', label), part('dd', '', text)]),
    );
  }

  #showRemarks({ result: { problems, words, cautions }, named }: OutcomeState): void {
    const ownProblems = problems.filter(({ parameter }) => parameter === undefined || named(parameter) === undefined);
    const ownWords = words.filter(({ parameter }) => parameter === undefined || named(parameter) === undefined);
    this.#frame.remarks.replaceChildren(
      ...ownProblems.map(({ message }) => part('p', 'wrong', message)),
      ...ownWords.map(({ message }) => part('p', 'caution', message)),
      ...(cautions.length > 0 ? [cautionsOf(cautions)] : []),
    );
  }

  #showText({ result: { lines }, replaced }: OutcomeState): void {
    const { outcome, text, textTitle } = this.#frame;
    outcome.classList.toggle('replacing', replaced !== undefined);
    textTitle.hidden = lines === undefined;
    textTitle.textContent = replaced ? 'Text: − goes, + comes' : 'Text';
    if (lines === undefined) {
      text.replaceChildren();
      return;
    }
    const shown = replaced
      ? changesOf(difference(replaced.lines, lines))
      : lines.map((line) => ({ sign: ' ' as const, text: line }));
    const rows = shown.slice(0, MOST_LINES).map((line) => {
      if (line.sign === '…') {
        return part('div', 'more', line.text);
      }
      const row = part('div', line.sign === '+' ? 'comes' : line.sign === '−' ? 'goes' : '');
      row.append(...(replaced ? [part('span', 'sign', line.sign)] : []), part('span', 'line-text', line.text));
      return row;
    });
    const more = shown.length - rows.length;
    text.replaceChildren(...rows, ...(more > 0 ? [part('div', 'more', `… and ${more} more lines`)] : []));
  }

  #showStatus({ result: { lines, problems }, replaced, line, missing, cautioned }: OutcomeState): void {
    const { insert } = this.#frame;
    insert.setAttribute('aria-disabled', String(lines === undefined));
    if (lines === undefined) {
      const others = problems.length - missing.length;
      const words = [
        missing.length > 0 ? `Still needed: ${missing.join(', ')}.` : '',
        others > 0 ? `${others === 1 ? 'One thing keeps' : `${others} things keep`} it from being written.` : '',
      ];
      this.#status(words.join(' ').trim(), others > 0 ? 'wrong' : '');
      return;
    }
    const count = lines.length === 1 ? '1 line' : `${lines.length} lines`;
    this.#frame.insertWord.textContent = replaced?.edited ? 'Replace all the same' : replaced ? 'Replace' : 'Insert';
    const caution = cautioned.length > 0 ? ` Caution at: ${cautioned.join(', ')}.` : '';
    if (replaced?.edited) {
      this.#status(`Changed by hand since it was generated: the lines marked − are lost.${caution}`, 'caution');
      return;
    }
    const last = line + (replaced?.lines.length ?? 1) - 1;
    const place = replaced
      ? `in place of ${line === last ? `line ${line}` : `lines ${line} to ${last}`}`
      : `at line ${line} of ${this.#program}`;
    this.#status(`${count} ${place}.${caution}`, caution === '' ? '' : 'caution');
  }

  #status(text: string, kind: '' | 'wrong' | 'caution'): void {
    const { status } = this.#frame;
    if (status.textContent !== text) {
      status.textContent = text;
    }
    status.className = `status ${kind}`.trim();
  }
}

/** The cautions at the head of the block: lines there, running words here. */
function cautionsOf(cautions: readonly string[]): HTMLElement {
  const made = part('p', 'caution');
  made.append(
    part('span', 'where', 'At its head: '),
    cautions.map((line) => (/[.,:;?!]$/.test(line) ? line : `${line}.`)).join(' '),
  );
  return made;
}

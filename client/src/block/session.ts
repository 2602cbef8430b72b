// One form that is open: what it is for, what its values come to, what is drawn of it, and how its block is written.
import * as vscode from 'vscode';
import type { BlockForm, FormResult } from '../../../server/src/core/features/blockForm.ts';
import type { FromForm, Replaced, ToForm } from '../../form/messages.ts';
import type { PathPreview } from '../path/register.ts';
import { keepValues, type Store } from './lastValues.ts';
import { editFor, type Lines, moved, type Place } from './place.ts';
import type { BlockRequests } from './requests.ts';

/** What a form is opened for. */
export interface FormTask {
  readonly document: vscode.TextDocument;
  readonly name: string;
  readonly place: Place;
  /** In mm: a revised block's own values, else those of last time. */
  readonly kept: Readonly<Record<string, string>>;
  /** Stand in their fields as if typed; in the program's units. */
  readonly typed: Readonly<Record<string, string>>;
  readonly isRevised: boolean;
  /** The block takes the place of lines that say something, not of an empty one. */
  readonly takesLines: boolean;
  readonly edited: boolean;
}

/** What the session needs of its surroundings. */
export interface SessionHost {
  readonly requests: BlockRequests;
  readonly preview: PathPreview;
  readonly store: Store;
  say(message: ToForm): void;
  /** The form is done with; the cursor goes to `line` where the block was written. */
  close(line?: number): void;
}

/** A block that came out otherwise than the one on the screen is to be seen first. */
const CHANGED = 'The program has changed, and the block with it. Nothing was written yet: look at it and say so again.';

/** See the top of the file. */
export class FormSession {
  readonly #task: FormTask;
  readonly #form: BlockForm;
  readonly #host: SessionHost;
  #place: Place;
  #edited: boolean;
  readonly #takesLines: boolean;
  /** The empty line that the block takes the place of, as it was. */
  readonly #freeText: string;
  #typed: Readonly<Record<string, string>>;
  #asked = 0;
  #last: FormResult | undefined;
  #isWanted = false;
  #isRunning = false;
  #isEnded = false;

  constructor(task: FormTask, form: BlockForm, host: SessionHost) {
    this.#task = task;
    this.#form = form;
    this.#host = host;
    this.#place = task.place;
    this.#edited = task.edited;
    this.#takesLines = task.takesLines;
    this.#freeText = this.#lines().join('\n');
    this.#typed = task.typed;
  }

  /** Takes a message of the form. */
  hear(message: FromForm): void {
    if (message.type === 'ready') {
      this.#begin();
    } else if (message.type === 'values') {
      this.#typed = message.values;
      this.#asked = message.asked;
      this.#want();
    } else if (message.type === 'insert') {
      void this.#insert(message.overEdited);
    } else {
      this.#host.close();
    }
  }

  /** The program has changed: the block's place goes along, and the block is made again. */
  documentChanged(changes: readonly vscode.TextDocumentContentChangeEvent[]): void {
    for (const { range, text } of changes) {
      const change = {
        startLine: range.start.line,
        endLine: range.end.line,
        endColumn: range.end.character,
        newLines: text.split('\n').length - 1,
      };
      const { touched, ...place } = moved(this.#place, change);
      this.#place = place;
      this.#edited ||= touched && this.#task.isRevised;
    }
    this.#keepOffText();
    this.#want();
  }

  /** Nothing is drawn any longer, and what is still under way is dropped. */
  end(): void {
    this.#isEnded = true;
    this.#host.preview.draw(this.#task.document.uri, undefined);
  }

  #begin(): void {
    const { document } = this.#task;
    this.#host.say({
      type: 'form',
      form: this.#form,
      program: document.uri.path.replace(/^.*\//, ''),
      line: this.#place.line + 1,
      values: this.#typed,
      ...this.#replaced(),
    });
  }

  /** An empty line that was written on meanwhile stays. */
  #keepOffText(): void {
    const { line, replaced } = this.#place;
    if (!this.#takesLines && replaced > 0 && this.#lines().join('\n') !== this.#freeText) {
      this.#place = { line: line + replaced, replaced: 0 };
    }
  }

  /** The lines that the block takes the place of. */
  #lines(): string[] {
    const { line, replaced } = this.#place;
    return Array.from({ length: replaced }, (_, i) => this.#task.document.lineAt(line + i).text);
  }

  #replaced(): { replaced?: Replaced } {
    if (!this.#takesLines) {
      return {};
    }
    return { replaced: { lines: this.#lines(), edited: this.#edited, isBlock: this.#task.isRevised } };
  }

  #want(): void {
    this.#isWanted = true;
    if (!this.#isRunning) {
      void this.#run();
    }
  }

  /** Asks until nothing newer is wanted; one question at a time. */
  async #run(): Promise<void> {
    this.#isRunning = true;
    try {
      while (this.#isWanted && !this.#isEnded) {
        this.#isWanted = false;
        const { asked, result } = await this.#ask();
        if (!this.#isWanted && !this.#isEnded) {
          this.#show(asked, result);
        }
      }
    } catch (error) {
      this.#trouble(error);
    } finally {
      this.#isRunning = false;
    }
  }

  async #ask(): Promise<{ asked: number; result: FormResult & { version: number } }> {
    const asked = this.#asked;
    const { name, kept, isRevised } = this.#task;
    const result = await this.#host.requests.block(name, this.#place, { values: this.#typed, kept, isRevised });
    return { asked, result };
  }

  #show(asked: number, result: FormResult): void {
    this.#last = result;
    this.#host.say({ type: 'result', asked, result, line: this.#place.line + 1, ...this.#replaced() });
    const { lines } = result;
    const isInstead = this.#takesLines;
    this.#host.preview.draw(this.#task.document.uri, lines && { inserted: { ...this.#place, lines }, isInstead });
  }

  /** Makes the block once more for the text as it is now and writes it: one step to undo. */
  async #insert(overEdited: boolean): Promise<void> {
    const { document } = this.#task;
    try {
      for (let tries = 0; tries < 5; tries++) {
        const { asked, result } = await this.#ask();
        if (this.#isEnded) {
          return;
        }
        if (result.version !== document.version) {
          continue;
        }
        const before = this.#last?.lines?.join('\n');
        this.#show(asked, result);
        const { lines } = result;
        if (lines === undefined || (this.#edited && !overEdited)) {
          return;
        }
        if (lines.join('\n') !== before) {
          this.#host.say({ type: 'trouble', text: CHANGED });
          return;
        }
        await this.#write(lines, result);
        return;
      }
      this.#host.say({ type: 'trouble', text: 'The program keeps changing. Nothing was written; try again.' });
    } catch (error) {
      this.#trouble(error);
    }
  }

  async #write(lines: readonly string[], { raw, kept }: FormResult): Promise<void> {
    const { document, isRevised } = this.#task;
    const text: Lines = { lineCount: document.lineCount, lineText: (line) => document.lineAt(line).text };
    const edit = editFor(this.#place, lines, text, document.eol === vscode.EndOfLine.CRLF ? '\r\n' : '\n');
    const { line } = this.#place;
    const range = new vscode.Range(edit.fromLine, edit.fromColumn, edit.toLine, edit.toColumn);
    const change = new vscode.WorkspaceEdit();
    change.replace(document.uri, document.validateRange(range), edit.text);
    // From here on the change of the text is the form's own.
    this.end();
    if (!(await vscode.workspace.applyEdit(change))) {
      this.#isEnded = false;
      this.#host.say({ type: 'trouble', text: 'The block could not be written into the program.' });
      return;
    }
    if (!isRevised) {
      const typed = Object.entries(this.#typed).flatMap(([name, value]) => (value.trim() === '' ? [] : [name]));
      await keepValues(this.#host.store, this.#form, raw, new Set([...typed, ...Object.keys(kept)]));
    }
    this.#host.close(line + lines.length - 1);
  }

  #trouble(error: unknown): void {
    if (!this.#isEnded) {
      this.#host.say({ type: 'trouble', text: error instanceof Error ? error.message : String(error) });
    }
  }
}

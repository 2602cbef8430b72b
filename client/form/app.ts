// The form of a block: takes what the extension says, sends what is typed, shows what it comes to.
import type { FormField } from '../../server/src/core/features/blockForm.ts';
import { Fields } from './fields.ts';
import { buildFrame, type Frame } from './frame.ts';
import type { FromForm, ToForm } from './messages.ts';
import { Outcome } from './outcome.ts';
import { FormValues } from './values.ts';

/** How long after a change the values are sent, ms: a number is typed in one go. */
const WAIT = 80;

type FormMessage = Extract<ToForm, { type: 'form' }>;
type ResultMessage = Extract<ToForm, { type: 'result' }>;

/** See the top of the file. */
export class BlockFormApp {
  readonly #into: HTMLElement;
  readonly #say: (message: FromForm) => void;
  #frame: Frame | undefined;
  #fields: Fields | undefined;
  #outcome: Outcome | undefined;
  #values = new FormValues({});
  #last: ResultMessage | undefined;
  #asked = 0;
  #timer: ReturnType<typeof setTimeout> | undefined;
  /** The user has said "insert" while the newest values were still under way. */
  #isInsertMeant = false;
  /** The user has tried to insert: from then on a missing value is a mistake. */
  #hasTried = false;

  constructor(into: HTMLElement, say: (message: FromForm) => void) {
    this.#into = into;
    this.#say = say;
  }

  /** Takes a message of the extension. */
  take(message: ToForm): void {
    if (message.type === 'form') {
      this.#begin(message);
    } else if (message.type === 'result') {
      this.#result(message);
    } else {
      this.#isInsertMeant = false;
      this.#outcome?.trouble(message.text);
    }
  }

  #begin(message: FormMessage): void {
    const { form, program, line, replaced } = message;
    const isRevised = replaced?.isBlock === true;
    this.#values = new FormValues(message.values, isRevised);
    this.#frame = buildFrame(this.#into, form, { program, line });
    this.#fields = new Fields(this.#frame.fields, form.fields, this.#values, {
      changed: () => this.#changed(),
      entered: (field) => this.#help(field),
    });
    this.#outcome = new Outcome(this.#frame, program);
    this.#listen(this.#frame);
    this.#send();
  }

  #listen({ insert, cancel }: Frame): void {
    insert.addEventListener('click', () => this.#insert(true));
    cancel.addEventListener('click', () => this.#say({ type: 'close' }));
    document.addEventListener('keydown', (event) => {
      if (event.key === 'a' && (event.ctrlKey || event.metaKey)) {
        // The editor would select all a second time, and later: over what has been typed by then.
        event.stopPropagation();
      } else if (event.key === 'Escape') {
        event.preventDefault();
        this.#say({ type: 'close' });
      } else if (event.key === 'Enter' && !(event.target instanceof HTMLButtonElement) && !event.isComposing) {
        event.preventDefault();
        this.#insert(false);
      }
    });
  }

  #changed(): void {
    this.#isInsertMeant = false;
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#send(), WAIT);
  }

  #send(): void {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    this.#say({ type: 'values', asked: ++this.#asked, values: this.#values.typed });
  }

  get #isUpToDate(): boolean {
    return this.#timer === undefined && this.#last?.asked === this.#asked;
  }

  #result(message: ResultMessage): void {
    const isFirst = this.#last === undefined;
    this.#last = message;
    this.#values.know(message.result);
    this.#show();
    if (isFirst) {
      this.#fields?.focusFirst();
    }
    if (this.#isInsertMeant && this.#isUpToDate) {
      this.#isInsertMeant = false;
      this.#insert(false);
    }
  }

  #show(): void {
    const { result, replaced, line } = this.#last ?? {};
    if (!result || !this.#fields || !this.#outcome) {
      return;
    }
    this.#fields.show(result, this.#hasTried);
    this.#outcome.show({
      result,
      replaced,
      line: line ?? 0,
      missing: this.#fields.missing(result.problems),
      cautioned: this.#fields.cautioned(),
      named: (name) => this.#fields?.labelOf(name),
    });
  }

  /** `isSure`: by the button, which says what is lost. Values that are under way are waited for. */
  #insert(isSure: boolean): void {
    if (!this.#isUpToDate) {
      this.#isInsertMeant = true;
      if (this.#timer !== undefined) {
        this.#send();
      }
      return;
    }
    if (this.#last?.result.lines === undefined) {
      this.#hasTried = true;
      this.#show();
      this.#fields?.focusWrong();
      return;
    }
    const edited = this.#last.replaced?.edited === true;
    if (edited && !isSure) {
      this.#outcome?.showDifference();
      this.#frame?.insert.focus();
      return;
    }
    this.#say({ type: 'insert', overEdited: edited });
  }

  #help(field: FormField): void {
    this.#outcome?.help(field);
  }
}

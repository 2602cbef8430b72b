/**
 * The files of one folder as subprograms: what was read is kept until it changes. The program under analysis asks at
 * once and may hear that something has to be read first; reading goes on beside it.
 */
import type { FoundSubprogram } from '../core/checks/flow/host.ts';
import {
  type ChosenFile,
  calledNumbers,
  chooseFile,
  type FileHead,
  HEAD_BYTES,
  headOfLines,
  headOfText,
  LARGEST_SUBPROGRAM,
  toldCutShort,
  whyNotUsed,
} from '../core/checks/flow/siblingFiles.ts';
import type { FileStart } from './host.ts';

/** A program that is open in an editor, as far as it is needed here. */
export interface OpenText {
  readonly version: number;
  readonly analysis: { readonly lineCount: number; lineText(line: number): string; text(): string };
}

/** What a folder is read with. */
export interface FolderReader {
  names(): Promise<readonly string[] | undefined>;
  /** The first `most` bytes of a file. */
  start(name: string, most: number): Promise<FileStart | undefined>;
  /** Files of the folder that are open in an editor, by name. */
  opened(): ReadonlyMap<string, OpenText>;
  tell(message: string): void;
}

/** What a program asks for. */
export interface Wanted {
  readonly number: number;
  /** True where `:1234` is a program number. */
  readonly colonCounts: boolean;
}

/** What is known of an answer; `name` of the file where it is known, also before its text is. */
interface Answer {
  readonly found: FoundSubprogram;
  readonly name: string | undefined;
}

interface KeptText {
  found: Exclude<FoundSubprogram, 'loading'>;
  /** Of the editor; undefined for a text from disk. */
  readonly version: number | undefined;
}

/** See the top of the file. */
export class SiblingFolder {
  private readonly reader: FolderReader;
  private names: readonly string[] | undefined;
  private readonly heads = new Map<string, FileHead>();
  private readonly texts = new Map<string, KeptText>();
  /** The last text of a file that changed: where it comes again, it is the same object. */
  private readonly before = new Map<string, { readonly text: string }>();
  /** Answers that nothing has changed since; a loop may ask for the same one very often. */
  private readonly answers = new Map<string, Answer>();
  /** Counts changes, so that what was read meanwhile is read again. */
  private changes = 0;

  constructor(reader: FolderReader) {
    this.reader = reader;
  }

  /** What is known now; `loading` where something has to be read. */
  look(wanted: Wanted): Answer {
    const key = `${wanted.number} ${wanted.colonCounts}`;
    const known = this.answers.get(key);
    if (known !== undefined) return known;
    const chosen = this.choose(wanted);
    if (!('name' in chosen)) return { found: 'loading', name: undefined };
    const { name, isCutShort } = chosen;
    if (name === undefined && isCutShort) this.reader.tell(toldCutShort(wanted.number));
    const found = name === undefined ? 'absent' : this.text(name, wanted.number);
    if (found === undefined) return { found: 'loading', name };
    const answer: Answer = { found, name };
    this.answers.set(key, answer);
    return answer;
  }

  /** The name of the file that answers, '' where there is none; undefined where something has to be read to know. */
  nameFor(wanted: Wanted): string | undefined {
    const chosen = this.choose(wanted);
    return 'name' in chosen ? (chosen.name ?? '') : undefined;
  }

  /** Reads until the answer is known, and then what its text calls. */
  async load(wanted: Wanted, seen = new Set<number>()): Promise<void> {
    if (seen.has(wanted.number)) return;
    seen.add(wanted.number);
    for (;;) {
      const chosen = this.choose(wanted);
      if (!('name' in chosen)) {
        await (chosen.unread === undefined ? this.readNames() : this.readHeads(chosen.unread));
        continue;
      }
      const { name } = chosen;
      if (name === undefined) return;
      const found = this.text(name, wanted.number);
      if (found !== undefined) return this.loadCalled(found, wanted, seen);
      await this.readText(name, wanted.number);
    }
  }

  private async loadCalled(found: FoundSubprogram, wanted: Wanted, seen: Set<number>): Promise<void> {
    if (typeof found === 'string') return;
    for (const number of calledNumbers(found.text)) await this.load({ ...wanted, number }, seen);
  }

  /** A file was changed, on disk or in its editor. */
  forgetFile(name: string): void {
    this.changed();
    this.heads.delete(name);
    const kept = this.texts.get(name);
    if (kept !== undefined && typeof kept.found !== 'string') this.before.set(name, kept.found);
    this.texts.delete(name);
  }

  /** The text of a file was edited in its editor; true if it may be another subprogram now. */
  edited(name: string, open: OpenText): boolean {
    const before = this.heads.get(name);
    if (this.texts.has(name)) this.forgetFile(name);
    const { lineCount } = open.analysis;
    const head = headOfLines((line) => open.analysis.lineText(line), lineCount);
    const isOther = before === undefined || before.mark !== head.mark || before.number !== head.number;
    if (isOther) this.forgetFile(name);
    this.heads.set(name, head);
    return isOther;
  }

  /** Files came or went. */
  forgetNames(): void {
    this.changed();
    this.names = undefined;
  }

  /** Everything may have changed. */
  forgetAll(): void {
    this.forgetNames();
    for (const name of new Set([...this.heads.keys(), ...this.texts.keys()])) this.forgetFile(name);
  }

  private changed(): void {
    this.changes++;
    this.answers.clear();
  }

  /** The file, or those whose start has to be read first; undefined where their names are not known yet. */
  private choose(wanted: Wanted): ChosenFile | { readonly unread: readonly string[] | undefined } {
    if (this.names === undefined) return { unread: undefined };
    const opened = this.reader.opened();
    const names = new Set([...this.names, ...opened.keys()]);
    const search = chooseFile([...names], wanted.number, wanted.colonCounts);
    let step = search.next();
    while (!step.done) {
      const heads = step.value.map((name) => this.head(name, opened.get(name)));
      const names = step.value;
      if (heads.includes(undefined)) return { unread: names.filter((_, index) => heads[index] === undefined) };
      step = search.next(heads as FileHead[]);
    }
    return step.value;
  }

  private head(name: string, open: OpenText | undefined): FileHead | undefined {
    let head = this.heads.get(name);
    if (head === undefined && open !== undefined) {
      head = headOfLines((line) => open.analysis.lineText(line), open.analysis.lineCount);
      this.heads.set(name, head);
    }
    return head;
  }

  private text(name: string, number: number): KeptText['found'] | undefined {
    const open = this.reader.opened().get(name);
    const kept = this.texts.get(name);
    if (kept !== undefined && kept.version === open?.version) return kept.found;
    if (open === undefined) return undefined;
    const text = open.analysis.text();
    return this.keep(name, { text, size: text.length }, number, open.version);
  }

  private keep(
    name: string,
    { text, size }: FileStart,
    number: number,
    version: number | undefined,
  ): KeptText['found'] {
    const why = whyNotUsed(name, number, text, size);
    if (why !== undefined) this.reader.tell(why);
    const before = this.before.get(name);
    const same = before?.text === text ? before : { text };
    const found = why === undefined ? same : 'absent';
    this.texts.set(name, { found, version });
    return found;
  }

  private async readNames(): Promise<void> {
    const { changes } = this;
    const names = await this.reader.names().catch(() => undefined);
    if (changes === this.changes) this.names = names ?? [];
  }

  private async readHeads(names: readonly string[]): Promise<void> {
    const { changes } = this;
    const starts = await Promise.all(names.map((name) => this.reader.start(name, HEAD_BYTES).catch(() => undefined)));
    if (changes !== this.changes) return;
    names.forEach((name, index) => {
      if (!this.heads.has(name)) this.heads.set(name, headOfText(starts[index]?.text ?? ''));
    });
  }

  private async readText(name: string, number: number): Promise<void> {
    const { changes } = this;
    const start = await this.reader.start(name, LARGEST_SUBPROGRAM).catch(() => undefined);
    if (changes !== this.changes || this.reader.opened().has(name)) return;
    if (start === undefined) this.texts.set(name, { found: 'absent', version: undefined });
    else this.keep(name, start, number, undefined);
  }
}

/** Subprograms in the files beside a program, for the command line: read at once, each file once. */
import { dirname, join, resolve } from 'node:path';
import type { FoundSubprogram, SubprogramHost } from '../../core/checks/flow/host.ts';
import {
  chooseFile,
  type FileHead,
  HEAD_BYTES,
  headOfText,
  LARGEST_SUBPROGRAM,
  toldCutShort,
  whyNotUsed,
} from '../../core/checks/flow/siblingFiles.ts';
import { fileStartSync, namesInSync } from '../fileStart.ts';
import { sayOnError } from './output.ts';

/** The files of one folder. */
class Folder {
  private readonly path: string;
  private names: readonly string[] | undefined;
  private readonly heads = new Map<string, FileHead>();
  private readonly texts = new Map<string, FoundSubprogram>();
  private readonly told = new Set<string>();
  private readonly answers = new Map<string, FoundSubprogram>();

  constructor(path: string) {
    this.path = path;
  }

  /** A loop may ask for the same number very often. */
  find(number: number, colonCounts: boolean): FoundSubprogram {
    const key = `${number} ${colonCounts}`;
    const known = this.answers.get(key) ?? this.search(number, colonCounts);
    this.answers.set(key, known);
    return known;
  }

  private search(number: number, colonCounts: boolean): FoundSubprogram {
    this.names ??= namesInSync(this.path) ?? [];
    const search = chooseFile(this.names, number, colonCounts);
    let step = search.next();
    while (!step.done) step = search.next(step.value.map((name) => this.head(name)));
    const { name, isCutShort } = step.value;
    if (name !== undefined) return this.text(name, number);
    if (isCutShort) this.tell(toldCutShort(number));
    return 'absent';
  }

  private head(name: string): FileHead {
    let head = this.heads.get(name);
    if (head === undefined) {
      head = headOfText(fileStartSync(join(this.path, name), HEAD_BYTES, this.path)?.text ?? '');
      this.heads.set(name, head);
    }
    return head;
  }

  private text(name: string, number: number): FoundSubprogram {
    let found = this.texts.get(name);
    if (found === undefined) {
      const file = fileStartSync(join(this.path, name), LARGEST_SUBPROGRAM, this.path);
      const why = file && whyNotUsed(name, number, file.text, file.size);
      if (why !== undefined) this.tell(why);
      found = file === undefined || why !== undefined ? 'absent' : { text: file.text };
      this.texts.set(name, found);
    }
    return found;
  }

  private tell(message: string): void {
    if (this.told.has(message)) return;
    this.told.add(message);
    sayOnError(`${this.path}: ${message}`);
  }
}

/** Finds the subprograms of programs; folders are looked up once. */
export class SubprogramFolders {
  private readonly folders = new Map<string, Folder>();

  /** The files beside a program; `-` counts as in the working folder. `colonCounts` is true where `:1234` is a program number. */
  hostFor(program: string, colonCounts: boolean): SubprogramHost {
    const path = program === '-' ? process.cwd() : dirname(resolve(program));
    const folder = this.folders.get(path) ?? new Folder(path);
    this.folders.set(path, folder);
    return { lookup: (number) => folder.find(number, colonCounts) };
  }
}

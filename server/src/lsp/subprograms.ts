/**
 * Subprograms in the files beside the open programs. A run asks at once; what has to be read is read beside it, and the
 * run waits for it a while before it is told of. Where a file changes, on disk or in an editor, its callers run again.
 */
import type { FoundSubprogram, SubprogramHost } from '../core/checks/flow/host.ts';
import { calledNumbers, isProgramName, LARGEST_SUBPROGRAM, MOST_FILES } from '../core/checks/flow/siblingFiles.ts';
import { type FilePlace, isInside, placeOf, siblingAddress } from './addresses.ts';
import type { FileStart } from './host.ts';
import type { Program } from './programs.ts';
import { type OpenText, SiblingFolder, type Wanted } from './siblingFolder.ts';

/** A run waits so long for its subprograms' files, ms; then it is told of as far as it came. */
const LONGEST_WAIT = 5000;
/** Changes are gathered for so long before the callers run again, ms. */
const GATHER = 150;

/** What the subprograms need of the server. */
export interface SubprogramHooks {
  /** Names of the files in the folder of a program; `beside` is the program's address. */
  listFolder(beside: string): Promise<readonly string[] | undefined>;
  /** The first bytes of the file `name` beside a program, never from outside `within` (an address; undefined: its folder). */
  readStart(beside: string, name: string, most: number, within: string | undefined): Promise<FileStart | undefined>;
  programs(): Iterable<Program>;
  tell(message: string): void;
  /** A folder is read from: its changes are to be told of. Returns how to take that back. */
  watchFolder(beside: string): () => void;
  /** A program has to run again. `wasTold` is true where its findings were known before. */
  runAgain(program: Program, wasTold: boolean): void;
}

/** A program file in the folder of another. */
export interface FileBeside {
  readonly name: string;
  readonly uri: string;
  /** The program in its editor, where it is open. */
  readonly program: Program | undefined;
  /** Its start, as much of it as a subprogram may have. */
  read(): Promise<FileStart | undefined>;
}

interface Asked extends Wanted {
  found: FoundSubprogram;
  name: string | undefined;
}

/** A folder with the programs in it that call something. */
interface Watched {
  readonly folder: SiblingFolder;
  readonly callers: Map<Program, Map<string, Asked>>;
  readonly stopWatching: () => void;
  isSettling: boolean;
  /** Asked, or changed, since reading began. */
  again: boolean;
  timer: ReturnType<typeof setTimeout> | undefined;
}

/** See the top of the file. */
export class Subprograms {
  private readonly hooks: SubprogramHooks;
  private readonly folders = new Map<string, Watched>();
  private roots: readonly { readonly folder: string; readonly address: string }[] = [];
  private readonly told = new Set<string>();
  private readonly waits = new Map<Program, { resolve(): void; timer: ReturnType<typeof setTimeout> }>();
  /** Programs that asked and lie in no folder that is open. */
  private readonly outside = new Set<Program>();
  /** Programs that have waited long enough and still lack something. */
  private readonly overdue = new Set<Program>();

  constructor(hooks: SubprogramHooks) {
    this.hooks = hooks;
  }

  /** The folders that the editor has open; programs elsewhere find no files. Without any, a program's own folder counts. */
  setRoots(addresses: readonly string[]): void {
    this.roots = addresses.flatMap((address) => {
      const place = placeOf(`${address}${address.endsWith('/') ? '' : '/'}x`);
      return place === undefined ? [] : [{ folder: place.folder, address }];
    });
    const callers = new Set(this.outside);
    this.outside.clear();
    for (const [folder, watched] of this.folders) {
      for (const program of watched.callers.keys()) callers.add(program);
      this.leave(folder, watched);
    }
    for (const program of callers) this.runsAgain(program);
  }

  private leave(folder: string, watched: Watched): void {
    this.folders.delete(folder);
    watched.callers.clear();
    watched.stopWatching();
  }

  private runsAgain(program: Program): void {
    const wasTold = !program.isDirty;
    program.subprogramsChanged();
    this.endWait(program);
    this.hooks.runAgain(program, wasTold);
  }

  /** Finds the subprograms of one program. */
  hostFor(program: Program): SubprogramHost {
    return { lookup: (number) => this.lookUp(program, number) };
  }

  /** Address of the file that a program found its subprogram `number` in. */
  addressOf(program: Program, number: number): string | undefined {
    const place = placeOf(program.uri);
    const asked = place && this.folders.get(place.folder)?.callers.get(program);
    const name = [...(asked?.values() ?? [])].find((one) => one.number === number)?.name;
    return name === undefined ? undefined : siblingAddress(program.uri, name);
  }

  /** The text of an open program changed. */
  edited(program: Program): void {
    if (this.folders.size === 0) return;
    const place = placeOf(program.uri);
    const watched = place && this.folders.get(place.folder);
    if (place === undefined || watched === undefined || !isProgramName(place.name)) return;
    const isOther = watched.folder.edited(place.name, program);
    if (isOther || isAnswer(watched, place.name)) this.settleWhereItConcerns(watched, place.name);
  }

  /** A program was opened; `rereads` for clients that do not tell of changes on disk. */
  opened(program: Program, rereads: boolean): void {
    this.changed(program.uri, (folder, name) => (rereads ? folder.forgetAll() : folder.forgetFile(name)));
  }

  /** A program was closed: its text is what is on disk again. */
  closed(program: Program): void {
    this.outside.delete(program);
    this.overdue.delete(program);
    this.endWait(program);
    const place = placeOf(program.uri);
    const watched = place && this.folders.get(place.folder);
    if (place === undefined || watched === undefined) return;
    watched.callers.delete(program);
    if (watched.callers.size === 0) this.leave(place.folder, watched);
    else this.changed(program.uri, (folder, name) => folder.forgetFile(name));
  }

  /** A file came, changed or went on disk. */
  fileChanged(uri: string, cameOrWent: boolean): void {
    this.changed(uri, (folder, name) => {
      folder.forgetFile(name);
      if (cameOrWent) folder.forgetNames();
    });
  }

  private changed(uri: string, forget: (folder: SiblingFolder, name: string) => void): void {
    if (this.folders.size === 0) return;
    const place = placeOf(uri);
    const watched = place && this.folders.get(place.folder);
    if (place === undefined || watched === undefined || !isProgramName(place.name)) return;
    forget(watched.folder, place.name);
    this.settleWhereItConcerns(watched, place.name);
  }

  private settleWhereItConcerns(watched: Watched, changed: string): void {
    const concerns = ({ number, colonCounts, name }: Asked): boolean => {
      const now = watched.folder.nameFor({ number, colonCounts });
      return now === undefined || now === changed || now !== (name ?? '');
    };
    if ([...watched.callers.values()].some((asked) => [...asked.values()].some(concerns))) this.settleSoon(watched);
  }

  private lookUp(program: Program, number: number): FoundSubprogram {
    const watched = this.folderOf(program);
    if (watched === undefined || !Number.isInteger(number) || number < 0) return 'absent';
    const wanted = { number, colonCounts: program.configuration.profile.colon !== 'alignment' };
    const { found, name } = watched.folder.look(wanted);
    const asked = watched.callers.get(program) ?? new Map<string, Asked>();
    watched.callers.set(program, asked);
    asked.set(`${number} ${wanted.colonCounts}`, { ...wanted, found, name });
    if (found === 'loading') {
      this.await(program);
      this.settle(watched);
    }
    return found;
  }

  /** The folder of a program; undefined where there is none that may be read. */
  private folderOf(program: Program): Watched | undefined {
    const place = placeOf(program.uri);
    if (place === undefined || program.isClosed) return undefined;
    const root = this.roots.find(({ folder }) => isInside(place.folder, folder));
    if (root === undefined && this.roots.length > 0) {
      this.outside.add(program);
      return undefined;
    }
    const known = this.folders.get(place.folder);
    if (known !== undefined) return known;
    const { uri } = program;
    const { hooks } = this;
    const watched: Watched = {
      folder: new SiblingFolder({
        names: () => hooks.listFolder(uri),
        start: (name, most) => hooks.readStart(uri, name, most, this.rootOf(place.folder)),
        opened: () => this.openIn(place.folder),
        tell: (message) => this.tellOnce(message),
      }),
      callers: new Map(),
      stopWatching: hooks.watchFolder(uri),
      isSettling: false,
      again: false,
      timer: undefined,
    };
    this.folders.set(place.folder, watched);
    return watched;
  }

  /** The file that a program was given for a call; undefined where none was found yet. */
  fileOf(program: Program, number: number): { readonly uri: string; readonly text: string } | undefined {
    const watched = this.folderOf(program);
    const place = placeOf(program.uri);
    if (watched === undefined || place === undefined) return undefined;
    const colonCounts = program.configuration.profile.colon !== 'alignment';
    const { found, name } = watched.folder.look({ number, colonCounts });
    if (name === undefined || typeof found === 'string') return undefined;
    const open = [...this.hooks.programs()].find(({ uri }) => isSame(placeOf(uri), { folder: place.folder, name }));
    return { uri: open?.uri ?? siblingAddress(program.uri, name), text: found.text };
  }

  /** The other program files of a program's folder as far as they may be read; `isWhole` is false where some may not. */
  async filesBeside(program: Program): Promise<{ readonly files: readonly FileBeside[]; readonly isWhole: boolean }> {
    const place = placeOf(program.uri);
    if (place === undefined || !this.mayRead(place.folder)) return { files: [], isWhole: true };
    const names = await this.hooks.listFolder(program.uri).catch(() => undefined);
    const open = new Map<string, Program>();
    for (const other of this.hooks.programs()) {
      const own = placeOf(other.uri);
      if (own?.folder === place.folder && isProgramName(own.name)) open.set(own.name, other);
    }
    const within = this.rootOf(place.folder);
    const all = [...new Set([...(names ?? []).filter(isProgramName), ...open.keys()])].sort();
    const others = all.filter((name) => name !== place.name);
    const files = others.slice(0, MOST_FILES).map((name) => ({
      name,
      uri: open.get(name)?.uri ?? siblingAddress(program.uri, name),
      program: open.get(name),
      read: () => this.hooks.readStart(program.uri, name, LARGEST_SUBPROGRAM, within),
    }));
    return { files, isWhole: names !== undefined && others.length <= MOST_FILES };
  }

  private mayRead(folder: string): boolean {
    return this.roots.length === 0 || this.roots.some((root) => isInside(folder, root.folder));
  }

  private rootOf(folder: string): string | undefined {
    return this.roots.find((root) => isInside(folder, root.folder))?.address;
  }

  private openIn(folder: string): ReadonlyMap<string, OpenText> {
    const open = new Map<string, OpenText>();
    for (const program of this.hooks.programs()) {
      const place = placeOf(program.uri);
      if (place?.folder === folder && isProgramName(place.name)) open.set(place.name, program);
    }
    return open;
  }

  private tellOnce(message: string): void {
    if (this.told.has(message)) return;
    this.told.add(message);
    this.hooks.tell(message);
  }

  /** Changes come in heaps while somebody types. */
  private settleSoon(watched: Watched): void {
    for (const program of watched.callers.keys()) this.await(program);
    watched.timer ??= setTimeout(() => {
      watched.timer = undefined;
      this.settle(watched);
    }, GATHER);
  }

  /** Reads what is asked for; who was answered otherwise before runs again then. */
  private settle(watched: Watched): void {
    watched.again = true;
    if (watched.isSettling) return;
    watched.isSettling = true;
    void this.readAll(watched).finally(() => {
      watched.isSettling = false;
      for (const [program, asked] of [...watched.callers]) this.release(watched.folder, program, asked);
    });
  }

  private async readAll(watched: Watched): Promise<void> {
    while (watched.again) {
      watched.again = false;
      for (const [program, asked] of [...watched.callers]) {
        const seen = new Set<number>();
        for (const wanted of [...asked.values()]) await watched.folder.load(wanted, seen);
        await readAhead(watched.folder, program, asked, seen);
      }
    }
  }

  private release(folder: SiblingFolder, program: Program, asked: Map<string, Asked>): void {
    if (program.isClosed) {
      this.closed(program);
      return;
    }
    this.overdue.delete(program);
    if ([...asked.values()].some((one) => folder.look(one).found !== one.found)) {
      asked.clear();
      this.runsAgain(program);
      return;
    }
    this.endWait(program);
    this.hooks.runAgain(program, false);
  }

  /** Lets a program wait for its subprograms, once and not for ever. */
  private await(program: Program): void {
    if (program.awaited !== undefined || this.overdue.has(program)) return;
    program.awaited = new Promise((resolve) => {
      const timer = setTimeout(() => {
        this.overdue.add(program);
        this.endWait(program);
        this.hooks.runAgain(program, false);
      }, LONGEST_WAIT);
      this.waits.set(program, { resolve, timer });
    });
  }

  private endWait(program: Program): void {
    const wait = this.waits.get(program);
    this.waits.delete(program);
    program.awaited = undefined;
    clearTimeout(wait?.timer);
    wait?.resolve();
  }
}

/** True if a file answers something that was asked. */
const isAnswer = ({ callers }: Watched, name: string): boolean =>
  [...callers.values()].some((asked) => [...asked.values()].some((one) => one.name === name));

/** What a program calls elsewhere in its text is read along with the first call, so that it does not run once for each. */
async function readAhead(
  folder: SiblingFolder,
  { analysis }: Program,
  asked: ReadonlyMap<string, Asked>,
  seen: Set<number>,
): Promise<void> {
  const first = [...asked.values()].find(({ found }) => found === 'loading');
  if (first === undefined) return;
  for (const number of calledNumbers(analysis.text())) await folder.load({ ...first, number }, seen);
}

const isSame = (a: FilePlace | undefined, b: FilePlace): boolean => a?.folder === b.folder && a.name === b.name;

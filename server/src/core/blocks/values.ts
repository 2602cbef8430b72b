/** Values of a block's parameters once they are read: lengths mm, feeds mm/min, speeds rev/min, angles degrees. */
import type { Thread } from '../reference/threadName.ts';
import type { Place } from './parameter.ts';

/** What one value may be. */
export type Due = number | string | boolean | Thread | readonly Place[] | readonly string[] | readonly number[];

/**
 * Values by parameter name. Asking for one that is missing or of another kind is a mistake of the block, not of its user,
 * and throws; `optional…` says undefined instead.
 */
export class Values {
  readonly #read: ReadonlyMap<string, Due>;
  readonly #given: ReadonlySet<string>;

  constructor(read: ReadonlyMap<string, Due>, given: ReadonlySet<string>) {
    this.#read = read;
    this.#given = given;
  }

  /** True if the user gave the value; false where it is a default. */
  isGiven(name: string): boolean {
    return this.#given.has(name);
  }

  /** True if there is a value, given or by default. */
  has(name: string): boolean {
    return this.#read.has(name);
  }

  optionalNumber(name: string): number | undefined {
    const value = this.#read.get(name);
    return typeof value === 'number' ? value : undefined;
  }

  number(name: string): number {
    return this.#sure(name, this.optionalNumber(name));
  }

  optionalText(name: string): string | undefined {
    const value = this.#read.get(name);
    return typeof value === 'string' ? value : undefined;
  }

  /** A choice or a text. */
  text(name: string): string {
    return this.#sure(name, this.optionalText(name));
  }

  isYes(name: string): boolean {
    return this.#read.get(name) === true;
  }

  optionalThread(name: string): Thread | undefined {
    const value = this.#read.get(name);
    return typeof value === 'object' && 'pitch' in value ? value : undefined;
  }

  thread(name: string): Thread {
    return this.#sure(name, this.optionalThread(name));
  }

  /** All places of a list; none where it is missing. */
  places(name: string): readonly Place[] {
    const value = this.#read.get(name);
    return Array.isArray(value) ? (value as readonly Place[]) : [];
  }

  place(name: string): Place {
    return this.#sure(name, this.places(name)[0]);
  }

  /** A list of words; none where it is missing. */
  words(name: string): readonly string[] {
    const value = this.#read.get(name);
    return Array.isArray(value) ? (value as readonly string[]) : [];
  }

  /** One or two numbers; undefined where it is missing. */
  pair(name: string): readonly number[] | undefined {
    const value = this.#read.get(name);
    return Array.isArray(value) ? (value as readonly number[]) : undefined;
  }

  /**
   * The values of an operation: `within('drill')` answers `depth` by `drill.depth`. `shared` are names that hold for the
   * operation too where it has none of its own, such as `material`.
   */
  within(prefix: string, shared: readonly string[] = []): Values {
    const start = `${prefix}.`;
    const read = new Map(shared.flatMap((name) => this.#entry(name)));
    const given = new Set(shared.filter((name) => this.#given.has(name)));
    for (const [name, value] of this.#read) if (name.startsWith(start)) read.set(name.slice(start.length), value);
    for (const name of this.#given) if (name.startsWith(start)) given.add(name.slice(start.length));
    return new Values(read, given);
  }

  /** The same values with some that were computed; they do not count as given. */
  with(computed: Readonly<Record<string, Due | undefined>>): Values {
    const more = Object.entries(computed).filter((entry): entry is [string, Due] => entry[1] !== undefined);
    return new Values(new Map([...this.#read, ...more]), this.#given);
  }

  #entry(name: string): [string, Due][] {
    const value = this.#read.get(name);
    return value === undefined ? [] : [[name, value]];
  }

  #sure<T>(name: string, value: T | undefined): T {
    if (value === undefined) throw new Error(`The block asks for ${name}, which is missing or of another kind.`);
    return value;
  }
}

// Which value stands in which field, and where it comes from: typed, of last time, from the program, or the usual one.
import type { FormField, FormResult, GivenValue } from '../../server/src/core/features/blockForm.ts';

/** What the values came to, as far as the fields need it. */
export interface KnownValues {
  readonly given: Readonly<Record<string, GivenValue>>;
  readonly kept: Readonly<Record<string, string>>;
  readonly taken?: FormResult['taken'];
  readonly notes?: FormResult['notes'];
}

/** Where a value comes from; `own`: the block that is revised has it. */
export type Origin = 'typed' | 'own' | 'kept' | 'given' | 'usual' | 'none';

/** A value with its origin. */
export interface ShownValue {
  readonly value: string;
  readonly origin: Origin;
}

/** The values of a form that is open. */
export class FormValues {
  readonly #typed = new Map<string, string>();
  #known: KnownValues = { given: {}, kept: {} };

  readonly #isRevised: boolean;

  /** `typed` stand in their fields as if the user had typed them; `isRevised`: what is kept are the block's own values. */
  constructor(typed: Readonly<Record<string, string>>, isRevised = false) {
    this.#isRevised = isRevised;
    for (const [name, value] of Object.entries(typed)) {
      this.#typed.set(name, value);
    }
  }

  /** What is sent: all that was typed; empty where a field was emptied. */
  get typed(): Readonly<Record<string, string>> {
    return Object.fromEntries(this.#typed);
  }

  /** The server has told what else counts. */
  know(known: KnownValues): void {
    this.#known = known;
  }

  /** The user has typed in a field. */
  type(name: string, value: string): void {
    this.#typed.set(name, value);
  }

  /** True if the user was in the field, even if nothing is left in it. */
  isTouched({ name }: FormField): boolean {
    return this.#typed.has(name);
  }

  /** What stands in a field that the user is not in. */
  shown({ name, fallback }: FormField): ShownValue {
    const typed = this.#typed.get(name);
    if (typed !== undefined && typed.trim() !== '') {
      return { value: typed, origin: 'typed' };
    }
    const { given, kept } = this.#known;
    // A field that was emptied gives up the value of last time, not what the program says.
    if (typed === undefined && kept[name] !== undefined) {
      return { value: kept[name], origin: this.#isRevised ? 'own' : 'kept' };
    }
    if (given[name] !== undefined) {
      return { value: given[name].value, origin: 'given' };
    }
    return fallback === undefined ? { value: '', origin: 'none' } : { value: fallback, origin: 'usual' };
  }

  /** The value that is taken where a field is empty; undefined where none is, or something stands in it. */
  taken(field: FormField): string | undefined {
    return this.shown(field).value === '' ? this.#known.taken?.[field.name]?.value : undefined;
  }

  /** Words on where a value comes from, and what else is to be known of it. */
  source(field: FormField): string {
    const { origin } = this.shown(field);
    const from =
      origin === 'kept'
        ? 'as last time'
        : origin === 'given'
          ? `from the ${this.#known.given[field.name].from}`
          : origin === 'none'
            ? this.#known.taken?.[field.name]?.from
            : '';
    return [from, this.#known.notes?.[field.name]].filter(Boolean).join(' · ');
  }
}

/** The operation that a field belongs to (`drill` of `drill.depth`); undefined for one of the block as a whole. */
const operationOf = (name: string): string | undefined => {
  const dot = name.indexOf('.');
  return dot < 0 ? undefined : name.slice(0, dot);
};

/**
 * True if a field counts with what is chosen: fields of an operation that is not, or that go with another choice, are out of
 * the way. Lists of choices name the operations.
 */
export const counts = (field: FormField, fields: readonly FormField[], values: FormValues): boolean => {
  const operation = operationOf(field.name);
  const { onlyWith, isShared } = field;
  if (isShared && !['typed', 'own', 'kept'].includes(values.shown(field).origin) && !values.isTouched(field)) {
    return false;
  }
  if (onlyWith !== undefined) {
    const name = operation === undefined ? onlyWith.name : `${operation}.${onlyWith.name}`;
    const other = fields.find((candidate) => candidate.name === name);
    if (other !== undefined && !onlyWith.values.includes(values.shown(other).value.toLowerCase())) {
      return false;
    }
  }
  const lists = fields.filter(
    ({ kind, choices }) => kind === 'choices' && choices?.some(({ value }) => value === operation),
  );
  return lists.length === 0 || lists.some((list) => words(values.shown(list).value).includes(operation ?? ''));
};

/** The words of a list as it is typed: "spot,drill". */
export const words = (list: string): string[] =>
  list
    .toLowerCase()
    .split(/[\s,;]+/)
    .filter((word) => word !== '');

/** A field's label, with its group before it where another field is called the same: "Spot drill: tool number". */
export const fullLabel = ({ label, group }: FormField, fields: readonly FormField[]): string => {
  const isAlone = fields.filter((other) => other.label === label).length < 2;
  return isAlone ? label : `${group}: ${label[0].toLowerCase()}${label.slice(1)}`;
};

/** The part of JSON schema that the shop's file needs, and a check of a JSON tree against it that says where it is wrong. */
import type { Node } from 'jsonc-parser';

/** A schema; the keywords mean what JSON schema (draft 7) says. `anyOf` may hold at most one object, one text and so on. */
export interface Schema {
  readonly $schema?: string;
  readonly title?: string;
  readonly description?: string;
  readonly default?: unknown;
  readonly type?: 'object' | 'array' | 'string' | 'number' | 'integer' | 'boolean';
  readonly enum?: readonly (string | number)[];
  /** Words for each value of `enum`, and things to begin with: for editors only. */
  readonly enumDescriptions?: readonly string[];
  readonly defaultSnippets?: readonly {
    readonly label: string;
    readonly description: string;
    readonly body: unknown;
  }[];
  readonly examples?: readonly unknown[];
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly additionalProperties?: false | Schema;
  readonly propertyNames?: { readonly enum?: readonly string[]; readonly pattern?: string };
  readonly items?: Schema;
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly minimum?: number;
  readonly exclusiveMinimum?: number;
  readonly maximum?: number;
  readonly minLength?: number;
  readonly anyOf?: readonly Schema[];
}

/** What is wrong with a part of the file, at offsets of its text. */
export interface SchemaProblem {
  readonly message: string;
  readonly start: number;
  readonly end: number;
}

const TYPE_WORDS: Readonly<Record<string, string>> = {
  object: 'a group in { }',
  array: 'a list in [ ]',
  string: 'a text in quotes',
  number: 'a number',
  integer: 'a whole number',
  boolean: 'true or false',
};

/** Checks `node` against `schema`; `name` is what the value is called in messages. Problems come in the order of the text. */
export function checkAgainstSchema(node: Node, schema: Schema, name: string): SchemaProblem[] {
  const problems: SchemaProblem[] = [];
  checkNode(node, schema, name, problems);
  return problems.sort((a, b) => a.start - b.start);
}

function checkNode(node: Node, schema: Schema, name: string, problems: SchemaProblem[]): void {
  const say = (message: string, at: Node = node) =>
    problems.push({ message, start: at.offset, end: at.offset + at.length });
  if (schema.anyOf) {
    const fitting = schema.anyOf.find((one) => hasType(node, one.type));
    if (fitting) checkNode(node, fitting, name, problems);
    else say(`${name} must be ${schema.anyOf.map((one) => TYPE_WORDS[one.type ?? '']).join(' or ')}.`);
    return;
  }
  if (!hasType(node, schema.type)) return void say(`${name} must be ${TYPE_WORDS[schema.type ?? '']}.`);
  if (schema.enum && !schema.enum.includes(node.value)) {
    return void say(
      `${name} is ${textOf(node)}; it must be ${schema.enum.map((one) => JSON.stringify(one)).join(', ')}.`,
    );
  }
  if (node.type === 'number') checkNumber(node.value, schema, name, say);
  if (node.type === 'string' && node.value.length < (schema.minLength ?? 0)) say(`${name} is empty.`);
  if (node.type === 'array') checkArray(node, schema, name, problems, say);
  if (node.type === 'object') checkObject(node, schema, name, problems, say);
}

function hasType(node: Node, type: Schema['type']): boolean {
  if (type === undefined) return true;
  if (type === 'integer') return node.type === 'number' && Number.isInteger(node.value);
  return node.type === type;
}

const textOf = (node: Node): string => quotedText(node.value ?? null);

/** Longest text that a message repeats. */
const LONGEST_QUOTE = 40;

/** A key or value as a message repeats it, cut where it is long. */
export const quotedText = (value: unknown): string => {
  if (typeof value === 'string' && value.length > LONGEST_QUOTE)
    return JSON.stringify(`${value.slice(0, LONGEST_QUOTE)}…`);
  return JSON.stringify(value);
};

type Say = (message: string, at?: Node) => void;

function checkNumber(value: number, schema: Schema, name: string, say: Say): void {
  if (!Number.isFinite(value)) say(`${name} is too large.`);
  else if (schema.minimum !== undefined && value < schema.minimum) {
    say(`${name} is ${value}; it must be at least ${schema.minimum}.`);
  } else if (schema.exclusiveMinimum !== undefined && value <= schema.exclusiveMinimum) {
    say(`${name} is ${value}; it must be more than ${schema.exclusiveMinimum}.`);
  } else if (schema.maximum !== undefined && value > schema.maximum) {
    say(`${name} is ${value}; it must be at most ${schema.maximum}.`);
  }
}

function checkArray(node: Node, schema: Schema, name: string, problems: SchemaProblem[], say: Say): void {
  const items = node.children ?? [];
  const { minItems = 0, maxItems = Number.POSITIVE_INFINITY } = schema;
  if (items.length < minItems || items.length > maxItems) {
    say(
      `${name} has ${items.length} values; it takes ${minItems === maxItems ? minItems : `${minItems} to ${maxItems}`}.`,
    );
  }
  if (!schema.items) return;
  for (const item of items) checkNode(item, schema.items, `A value of ${name}`, problems);
}

function checkObject(node: Node, schema: Schema, name: string, problems: SchemaProblem[], say: Say): void {
  const seen = new Set<string>();
  for (const property of node.children ?? []) {
    const [key, value] = property.children ?? [];
    if (!key) continue;
    const quoted = quotedText(key.value);
    if (seen.has(key.value)) say(`${quoted} is given twice; only one of them can hold.`, key);
    seen.add(key.value);
    const own = schemaOfKey(schema, key.value);
    if (own === undefined) say(`${quoted} is not known in ${name}.${suggestion(key.value, knownKeys(schema))}`, key);
    else if (value) checkNode(value, own, quoted, problems);
  }
  for (const key of schema.required ?? []) {
    if (!seen.has(key)) say(`${name} needs ${JSON.stringify(key)}.`);
  }
}

/** The schema of a key's value, undefined where the key is not known. */
function schemaOfKey(schema: Schema, key: string): Schema | undefined {
  if (schema.properties && Object.hasOwn(schema.properties, key)) return schema.properties[key];
  const { additionalProperties: other = {}, propertyNames: names } = schema;
  if (other === false) return undefined;
  if (names?.enum && !names.enum.includes(key)) return undefined;
  if (names?.pattern !== undefined && !new RegExp(names.pattern).test(key)) return undefined;
  return other;
}

const knownKeys = (schema: Schema): readonly string[] => [
  ...Object.keys(schema.properties ?? {}),
  ...(schema.propertyNames?.enum ?? []),
];

/** The known key that is nearest to a wrong one, as a sentence; all of them where they are few; else nothing. */
function suggestion(key: string, known: readonly string[]): string {
  const near = known
    .map((one) => ({ one, steps: stepsBetween(key.toLowerCase(), one.toLowerCase()) }))
    .sort((a, b) => a.steps - b.steps)[0];
  if (near && near.steps <= Math.max(1, Math.floor(key.length / 3)))
    return ` Did you mean ${JSON.stringify(near.one)}?`;
  return known.length > 0 && known.length <= 12 ? ` Known are ${known.join(', ')}.` : '';
}

/** How many letters have to be changed, added or left out to get from one word to another (Levenshtein). */
function stepsBetween(a: string, b: string): number {
  if (a.length > 60) return a.length;
  let row = Array.from({ length: b.length + 1 }, (_, i) => i);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      next[j] = Math.min(row[j] + 1, next[j - 1] + 1, row[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1));
    }
    row = next;
  }
  return row[b.length];
}

/** The text of the shop's file or of a profile as a tree, with what is wrong with it as JSON and by the schema. */
import { type Node, type NodeType, type ParseError, parseTree } from 'jsonc-parser';
import { checkAgainstSchema, type Schema, type SchemaProblem } from './jsonSchema.ts';

/** What is wrong at a place of the file; lines and columns count from 0, columns in UTF-16 units, the end is exclusive. */
export interface ConfigurationProblem {
  readonly message: string;
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
  /** True where the JSON schema alone tells of it, as an editor that has the schema does by itself. */
  readonly bySchema: boolean;
}

/** A text as a tree, and what is wrong with it by its form. */
export interface CheckedText {
  /** Undefined where the text is no JSON. As the schema says only where nothing is wrong. */
  readonly tree: Node | undefined;
  readonly problems: readonly SchemaProblem[];
}

/** Reads a text and checks it against a schema; `name` is what the whole is called in messages. Never throws. */
export function parseChecked(text: string, schema: Schema, name: string): CheckedText {
  const errors: ParseError[] = [];
  try {
    const tree = parseTree(text, errors, { disallowComments: true });
    if (errors.length === 0 && tree) return { tree, problems: checkAgainstSchema(tree, schema, name) };
    const first = errors[0] ?? { error: 0, offset: 0, length: 0 };
    return { tree: undefined, problems: [syntaxProblem(text, first)] };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    const message = 'Too many brackets lie within each other here.';
    return { tree: undefined, problems: [{ message, start: 0, end: 0 }] };
  }
}

/** Words for the parser's error numbers (jsonc-parser, `ParseErrorCode`). */
const SYNTAX_WORDS: Readonly<Record<number, string>> = {
  2: 'This number is not written right.',
  3: 'A key in quotes is missing here.',
  4: 'A value is missing here.',
  5: 'A colon is missing here.',
  6: 'A comma is missing here.',
  7: 'A closing brace } is missing here.',
  8: 'A closing bracket ] is missing here.',
  9: 'Nothing may follow the last brace.',
  10: 'This file takes no remarks.',
  12: 'The closing quote is missing.',
};

function syntaxProblem(text: string, error: ParseError): SchemaProblem {
  const empty = text.trim() === '';
  const message = empty
    ? 'This file is empty. Write { "version": 1 } to begin with.'
    : (SYNTAX_WORDS[error.error] ?? 'This is not written as JSON.');
  return { message, start: error.offset, end: error.offset + error.length };
}

/** A problem with the line and column of its place. */
export function located(text: string, problem: SchemaProblem, bySchema: boolean): ConfigurationProblem {
  const [line, column] = lineAndColumn(text, problem.start);
  const [endLine, endColumn] = lineAndColumn(text, problem.end);
  return { message: problem.message, line, column, endLine, endColumn, bySchema };
}

function lineAndColumn(text: string, offset: number): [number, number] {
  const before = text.slice(0, offset).split(/\r\n|\r|\n/);
  return [before.length - 1, before[before.length - 1].length];
}

/** The value of a group's key, where it is of this type; undefined where it is not there. */
export const nodeAt = (group: Node | undefined, key: string, type?: NodeType): Node | undefined => {
  const value = propertiesOf(group).find(([name]) => name.value === key)?.[1];
  return type === undefined || value?.type === type ? value : undefined;
};

/** Keys and values of a group, in order. */
export const propertiesOf = (group: Node | undefined): (readonly [Node, Node])[] =>
  group?.type !== 'object'
    ? []
    : (group.children ?? []).flatMap(({ children = [] }) =>
        children.length === 2 ? [[children[0], children[1]] as const] : [],
      );

/** Where a value stands. */
export const rangeOf = (node: Node): { start: number; end: number } => ({
  start: node.offset,
  end: node.offset + node.length,
});

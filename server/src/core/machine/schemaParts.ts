/** Short ways to write the parts of the schema of the shop's file. Descriptions are what an editor shows over a key. */
import type { Schema } from './jsonSchema.ts';

/** Some text, not empty. */
export const text = (description: string, more: Partial<Schema> = {}): Schema => ({
  type: 'string',
  minLength: 1,
  description,
  ...more,
});

/** One of several values; each with the words that explain it, or without. */
export const choice = (
  description: string,
  ...values: readonly (string | number | readonly [value: string | number, words: string])[]
): Schema => {
  const words = values.map((value) => (Array.isArray(value) ? String(value[1]) : ''));
  const plain = values.map((value) =>
    Array.isArray(value) ? (value[0] as string | number) : (value as string | number),
  );
  return {
    enum: plain,
    ...(words.some((word) => word !== '') ? { enumDescriptions: words } : {}),
    description,
  };
};

/** true or false. */
export const flag = (description: string): Schema => ({ type: 'boolean', description });

/** Any number. */
export const number = (description: string): Schema => ({ type: 'number', description });

/** A number of 0 or more. */
export const atLeastZero = (description: string): Schema => ({ type: 'number', minimum: 0, description });

/** A number above 0. */
export const positive = (description: string): Schema => ({ type: 'number', exclusiveMinimum: 0, description });

/** A whole number. */
export const count = (description: string, minimum = 0): Schema => ({ type: 'integer', minimum, description });

/** A group of known keys; `required` are those that must be there. */
export const group = (description: string, properties: Record<string, Schema>, ...required: string[]): Schema => ({
  type: 'object',
  description,
  properties,
  ...(required.length > 0 ? { required } : {}),
  additionalProperties: false,
});

/** A list of equal things. */
export const list = (description: string, items: Schema): Schema => ({ type: 'array', description, items });

/** A list of so many numbers. */
export const numbers = (description: string, length: number, item: Schema = { type: 'number' }): Schema => ({
  ...list(description, item),
  minItems: length,
  maxItems: length,
});

/** The same schema with the value that holds where the key is left out. */
export const withDefault = (schema: Schema, value: unknown): Schema => ({ ...schema, default: value });

/** The same schema with something to begin with, as an editor offers it. */
export const withSnippets = (
  schema: Schema,
  ...snippets: readonly { readonly label: string; readonly description: string; readonly body: unknown }[]
): Schema => ({ ...schema, defaultSnippets: snippets });

/** A place of a snippet that takes a number; the cursor stops there in this order. */
export const blank = (order: number, value?: number): string =>
  value === undefined ? `^$${order}` : `^\${${order}:${value}}`;

/** A place of a snippet that takes a text or a key. */
export const word = (order: number, value: string): string => `\${${order}:${value}}`;

/** The schema as it is shipped, held to the program's own and to what general validators and an editor make of it. */
import { readFileSync, writeFileSync } from 'node:fs';
import Ajv from 'ajv';
import { parseTree } from 'jsonc-parser';
import { describe, expect, test } from 'vitest';
import { getLanguageService, TextDocument } from 'vscode-json-languageservice';
import { WHOLE_SHOP_FILE } from '../../../../tests/harness/shopFile.ts';
import { CONFIGURATION_SCHEMA } from './configurationSchema.ts';
import { parseChecked } from './configurationText.ts';
import type { Schema } from './jsonSchema.ts';
import { PROFILES } from './profile.ts';
import { PROFILE_SCHEMA } from './profileSchema.ts';

const shipped = new URL('../../../schema/blockwright.schema.json', import.meta.url);

const ajv = new Ajv({ allErrors: true });
ajv.addVocabulary(['enumDescriptions', 'defaultSnippets']);

const service = getLanguageService({ clientCapabilities: { textDocument: { completion: { completionItem: {} } } } });
service.configure({ schemas: [{ uri: 'schema://shop', fileMatch: ['*'], schema: CONFIGURATION_SCHEMA as object }] });

const documentOf = (text: string) => {
  const document = TextDocument.create('file:///blockwright.json', 'json', 1, text);
  return { document, json: service.parseJSONDocument(document) };
};

/** Calls `see` for every schema in a schema, with the way there. */
function walk(schema: Schema, way: string, see: (schema: Schema, way: string) => void): void {
  see(schema, way);
  for (const [key, one] of Object.entries(schema.properties ?? {})) walk(one, `${way}.${key}`, see);
  if (schema.additionalProperties) walk(schema.additionalProperties, `${way}.*`, see);
  if (schema.items) walk(schema.items, `${way}[]`, see);
  for (const one of schema.anyOf ?? []) walk(one, way, see);
}

test('the shipped schema is what the program uses (UPDATE=1 writes it; let the formatter lay it out)', () => {
  if (process.env.UPDATE) writeFileSync(shipped, JSON.stringify(CONFIGURATION_SCHEMA, null, 2));
  expect(JSON.parse(readFileSync(shipped, 'utf8'))).toEqual(CONFIGURATION_SCHEMA);
});

describe('judges as ajv and the editor do', () => {
  // Outside check: two general JSON schema validators judge the same files as our own.
  const judged = [
    WHOLE_SHOP_FILE,
    '{}',
    '{ "tols": [] }',
    '{ "rules": { "feed-misssing": "off" } }',
    '{ "limits": { "steps": 1.5 } }',
    '{ "tools": [{ "number": 4 }] }',
    '{ "profile": { "maxM": 0 } }',
    '{ "profile": "any file" }',
    '{ "profile": { "base": "iso", "localCallCode": -2 } }',
    '{ "machine": { "workOffsets": { "G53": {} } } }',
    '{ "machine": { "workOffsets": { "G54.1 P0": {} } } }',
    '{ "machine": { "workOffsets": { "G59.3": { "X": 1 } } } }',
    '{ "machine": { "axes": { "Q": {} } } }',
    '{ "stock": { "shape": "box", "min": [0, 0] } }',
    '{ "stock": {} }',
    '{ "materials": { "bar": { "cuttingSpeed": { "hss": [1, 2, 3] } } } }',
    '{ "programs": { "*.nc": { "limits": {} } } }',
    '[]',
  ];
  test.each(judged.map((text) => [text.slice(0, 80), text]))('%s', async (_, text) => {
    const byAjv = ajv.validate(JSON.parse(readFileSync(shipped, 'utf8')), JSON.parse(text));
    const { document, json } = documentOf(text);
    const marks = await service.doValidation(document, json, {}, CONFIGURATION_SCHEMA as object);
    expect(parseChecked(text, CONFIGURATION_SCHEMA, 'this file').problems.length === 0).toBe(byAjv);
    expect(marks.length === 0).toBe(byAjv);
  });
});

describe('what an editor shows', () => {
  test('every key and every choice has its words', () => {
    walk(CONFIGURATION_SCHEMA, '', (schema, way) => {
      if (/(\[\]|\.\*)$/.test(way) && schema.type !== 'object') return;
      expect(schema.description, way).toMatch(/\S/);
      if (schema.enumDescriptions) expect(schema.enumDescriptions, way).toHaveLength(schema.enum?.length ?? 0);
    });
  });

  test('every key of a whole file shows words under the pointer', async () => {
    const { document, json } = documentOf(WHOLE_SHOP_FILE);
    const keys = [...WHOLE_SHOP_FILE.matchAll(/"[^"]+"(?=:)/g)];
    expect(keys.length).toBeGreaterThan(90);
    for (const key of keys) {
      const hover = await service.doHover(document, document.positionAt(key.index + 1), json);
      expect(JSON.stringify(hover?.contents ?? ''), key[0]).toMatch(/[a-z]{3}/);
    }
  });

  test('the fields of a profile say what the presets have, with the lenient one’s as the default', () => {
    const described = PROFILE_SCHEMA.properties ?? {};
    const fields = Object.keys(PROFILES.iso).filter((field) => field !== 'name');
    expect(Object.keys(described).sort()).toEqual([...fields, 'base'].sort());
    expect(described.dwell.description).toContain('iso: point-decides; rs274ngc: seconds; iso-macro: milliseconds');
    expect(described.dwell.default).toBe('point-decides');
  });

  const offered = async (text: string): Promise<string[]> => {
    const at = text.indexOf('|');
    const { document, json } = documentOf(text.replace('|', ''));
    const list = await service.doComplete(document, document.positionAt(at), json);
    return (list?.items ?? []).map((item) => item.label.replaceAll('"', ''));
  };

  test.each([
    ['{ | }', ['version', 'tools', 'machine', 'stock', 'programs']],
    ['{ "holder": | }', ['synchronised', 'float', 'reversing']],
    ['{ "profile": | }', ['iso', 'rs274ngc', 'iso-macro', 'preset with a difference']],
    ['{ "profile": { | } }', ['base', 'dwell', 'localCallCode']],
    ['{ "tools": [ | ] }', ['end mill', 'drill', 'tap']],
    ['{ "tools": [ { "kind": | } ] }', ['end-mill', 'spot-drill']],
    ['{ "stock": | }', ['box', 'cylinder']],
    ['{ "rules": { | } }', ['feed-missing', 'units-unset']],
    ['{ "rules": { "feed-missing": | } }', ['error', 'off']],
    ['{ "machine": { "axes": { | } } }', ['X', 'Z', 'A']],
  ])('offers at %s', async (text, some) => {
    expect(await offered(text)).toEqual(expect.arrayContaining(some));
  });

  test('what is offered to begin with is right by the schema once its blanks are filled', () => {
    const check = new Ajv({ allErrors: true });
    check.addVocabulary(['enumDescriptions', 'defaultSnippets']);
    let count = 0;
    walk(CONFIGURATION_SCHEMA, '', (schema, way) => {
      for (const { body } of schema.defaultSnippets ?? []) {
        // A blank takes a number: the one offered, or any.
        const filled = JSON.stringify(body)
          .replaceAll(/"\^\$\{\d:([^}]*)\}"/g, '$1')
          .replaceAll(/"\^\$\d"/g, '1')
          .replaceAll(/\$\{\d:([^}]*)\}/g, '$1');
        expect(parseTree(filled), way).toBeDefined();
        const { defaultSnippets: _, ...plain } = schema;
        expect(check.validate(plain, JSON.parse(filled)), `${way}: ${filled}`).toBe(true);
        count++;
      }
    });
    expect(count).toBeGreaterThan(10);
  });
});

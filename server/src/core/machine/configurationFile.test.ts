import { readFileSync, writeFileSync } from 'node:fs';
import Ajv from 'ajv';
import { describe, expect, test } from 'vitest';
import { getLanguageService, TextDocument } from 'vscode-json-languageservice';
import { DEFAULT_CONFIGURATION } from './configuration.ts';
import { profileByName, profileFileOf, readConfigurationFile } from './configurationFile.ts';
import { CONFIGURATION_SCHEMA } from './configurationSchema.ts';
import { PROFILES } from './profile.ts';

const shipped = new URL('../../../schema/blockwright.schema.json', import.meta.url);
const example = `{
  "version": 1,
  "profile": { "base": "iso", "offsetRegister": "diameter" },
  "machine": { "axes": { "Z": { "min": -400, "max": 0, "rapid": 12000, "reference": 0 } }, "topSpeed": 8000,
               "workOffsets": { "G54": { "X": -250, "Y": -150, "Z": -320 } } },
  "tools": [ { "number": 4, "kind": "tap", "thread": "M6",
               "holder": { "kind": "reversing", "ratio": 1.75, "selfFeed": 3, "freeUp": 5, "float": 2 } } ],
  "programs": { "bracket-*.nc": { "stock": { "shape": "box", "min": [0, 0, -20], "max": [80, 50, 0] } } },
  "rules": { "units-unset": "off" }
}`;

const messagesOf = (text: string) => readConfigurationFile(text).problems.map((problem) => problem.message);

describe('a right file', () => {
  test('the documented example is taken, and what is not used yet is said', () => {
    const { configuration, problems, notUsedYet } = readConfigurationFile(example);
    expect(problems).toEqual([]);
    expect(configuration?.profile).toEqual({ ...PROFILES.iso, offsetRegister: 'diameter' });
    expect(configuration?.tools).toEqual([
      {
        number: 4,
        kind: 'tap',
        thread: 'M6',
        holder: { kind: 'reversing', ratio: 1.75, selfFeed: 3, freeUp: 5, float: 2 },
      },
    ]);
    expect(configuration?.rules).toEqual({ 'units-unset': 'off' });
    expect(notUsedYet).toEqual(['machine', 'programs']);
  });

  test('an empty group gives the defaults', () => {
    expect(readConfigurationFile('{}').configuration).toEqual(DEFAULT_CONFIGURATION);
  });

  test('inch lengths become mm, other numbers stay', () => {
    const { configuration } =
      readConfigurationFile(`{ "units": "inch", "profile": { "peckRetract": 0.02 }, "holder": "float",
      "blockDelete": "skip", "limits": { "steps": 10 },
      "tools": [{ "number": 1, "kind": "drill", "diameter": 0.5, "pointAngle": 135, "holder": { "kind": "float", "float": 0.1, "torque": 4 } }] }`);
    expect(configuration?.tools[0].diameter).toBeCloseTo(12.7, 12);
    expect(configuration?.tools[0].pointAngle).toBe(135);
    expect(configuration?.tools[0].holder?.float).toBeCloseTo(2.54, 12);
    expect(configuration?.tools[0].holder?.torque).toBe(4);
    expect(configuration?.profile.peckRetract).toBeCloseTo(0.508, 12);
    expect(configuration?.holder).toBe('float');
    expect(configuration?.blockDelete).toBe('skip');
    expect(configuration?.limits).toEqual({ ...DEFAULT_CONFIGURATION.limits, steps: 10 });
  });

  test('a part of a profile’s group keeps the rest of the preset', () => {
    const { configuration } = readConfigurationFile('{ "profile": { "base": "rs274ngc", "start": { "units": 20 } } }');
    expect(configuration?.profile).toEqual({ ...PROFILES.rs274ngc, start: { ...PROFILES.rs274ngc.start, units: 20 } });
  });
});

describe('a wrong file', () => {
  const wrong: [string, string][] = [
    ['', 'This file is empty. Write { "version": 1 } to begin with.'],
    ['{ "version": 2 }', '"version" is 2; it must be 1.'],
    ['{ "tols": [] }', '"tols" is not known in this file. Did you mean "tools"?'],
    [
      '{ "rules": { "feed-misssing": "off" } }',
      '"feed-misssing" is not known in "rules". Did you mean "feed-missing"?',
    ],
    [
      '{ "rules": { "feed-missing": "none" } }',
      '"feed-missing" is "none"; it must be "error", "warning", "hint", "off".',
    ],
    ['{ "limits": { "steps": 1.5 } }', '"steps" must be a whole number.'],
    ['{ "limits": { "steps": 0 } }', '"steps" is 0; it must be at least 1.'],
    ['{ "tools": [{ "number": 4 }] }', 'A value of "tools" needs "kind".'],
    [
      '{ "tools": [{ "number": 4, "kind": "tap", "thread": "M3.7" }] }',
      '"M3.7" is no thread that is known here. Write it as M6, M6x0.75, 1/4-20 UNC or G1/4.',
    ],
    [
      '{ "tools": [{ "number": 4, "kind": "tap" }, { "number": 4, "kind": "tap" }] }',
      'Tool 4 is in the table twice; give each number once.',
    ],
    ['{ "tools": [{ "number": 4, "kind": "drill", "diameter": -3 }] }', '"diameter" is -3; it must be more than 0.'],
    ['{ "stock": { "min": [0, 0] } }', '"min" has 2 values; it takes 3.'],
    ['{ "units": "mm", "units": "inch" }', '"units" is given twice; only one of them can hold.'],
    ['{ "profile": 3 }', '"profile" must be a text in quotes or a group in { }.'],
    ['{ "profile": "isoo" }', '"isoo" is no preset (iso, rs274ngc, iso-macro), and no file of that name can be read.'],
    [
      '{ "profile": "__proto__" }',
      '"__proto__" is no preset (iso, rs274ngc, iso-macro), and no file of that name can be read.',
    ],
    ['[]', 'this file must be a group in { }.'],
    ['{ "version": 1', 'A closing brace } is missing here.'],
    ['{ "version" 1 }', 'A colon is missing here.'],
    ['{ // remark\n }', 'This file takes no remarks.'],
  ];
  test.each(wrong)('%s', (text, message) => {
    expect(messagesOf(text)[0]).toBe(message);
    expect(readConfigurationFile(text).configuration).toBeUndefined();
  });

  test('the place is said, over any line end', () => {
    expect(readConfigurationFile('{\r\n  "version": 1,\r\n  "holder": "vice"\r\n}').problems).toMatchObject([
      { line: 2, column: 12, endLine: 2, endColumn: 18 },
    ]);
  });
});

describe('a profile in a file of its own', () => {
  const files: Record<string, string> = {
    'mill.json': '{ "base": "iso-macro", "maxM": 1 }',
    'bad.json': '{\n "maxM": 0 }',
  };
  const read = (name: string) => files[name];

  test('is asked for by name', () => {
    expect(profileFileOf('{ "profile": "mill.json" }')).toBe('mill.json');
    expect(profileFileOf('{ "profile": "iso" }')).toBeUndefined();
    expect(profileFileOf('{ "profil')).toBeUndefined();
  });

  test('is taken over its base', () => {
    expect(readConfigurationFile('{ "profile": "mill.json" }', read).configuration?.profile).toEqual({
      ...PROFILES['iso-macro'],
      maxM: 1,
    });
    expect(profileByName('mill.json', read)).toMatchObject({ maxM: 1 });
  });

  test('is reported with its place where it is wrong', () => {
    expect(readConfigurationFile('{ "profile": "bad.json" }', read).problems).toMatchObject([
      {
        message: 'The profile in "bad.json" is wrong at line 2, column 10: "maxM" is 0; it must be at least 1.',
        line: 0,
      },
    ]);
  });
});

describe('the shipped schema', () => {
  test('is what the program uses (UPDATE=1 writes it; let the formatter lay it out)', () => {
    if (process.env.UPDATE) writeFileSync(shipped, JSON.stringify(CONFIGURATION_SCHEMA, null, 2));
    expect(JSON.parse(readFileSync(shipped, 'utf8'))).toEqual(CONFIGURATION_SCHEMA);
  });

  // Outside check: two general JSON schema validators judge the same files as our own.
  const judged = [
    example,
    '{}',
    '{ "tols": [] }',
    '{ "rules": { "feed-misssing": "off" } }',
    '{ "limits": { "steps": 1.5 } }',
    '{ "tools": [{ "number": 4 }] }',
    '{ "profile": { "maxM": 0 } }',
    '{ "profile": "any file" }',
    '{ "machine": { "workOffsets": { "G53": {} } } }',
    '{ "machine": { "workOffsets": { "G59.3": { "X": 1 } } } }',
    '{ "stock": { "min": [0, 0] } }',
    '[]',
  ];
  test.each(judged)('judges as ajv and the editor do: %s', async (text) => {
    const ajv = new Ajv({ allErrors: true });
    const byAjv = ajv.validate(JSON.parse(readFileSync(shipped, 'utf8')), JSON.parse(text));
    const service = getLanguageService({});
    const document = TextDocument.create('file:///blockwright.json', 'json', 1, text);
    const marks = await service.doValidation(
      document,
      service.parseJSONDocument(document),
      {},
      CONFIGURATION_SCHEMA as object,
    );
    const own = messagesOf(text).filter((message) => !message.includes('no preset'));
    expect(own.length === 0).toBe(byAjv);
    expect(marks.length === 0).toBe(byAjv);
  });
});

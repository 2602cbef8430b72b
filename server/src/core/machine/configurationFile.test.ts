import { describe, expect, test } from 'vitest';
import { WHOLE_SHOP_FILE } from '../../../../tests/harness/shopFile.ts';
import { DEFAULT_CONFIGURATION } from './configuration.ts';
import { configurationFor, profileFilesOf, readConfigurationFile } from './configurationFile.ts';
import { PROFILES } from './profile.ts';
import { profileByName } from './profileFile.ts';

const messagesOf = (text: string) => readConfigurationFile(text).problems.map((problem) => problem.message);

/** What a file says for a program; the file must be right. */
const read = (text: string, path?: string) => {
  const { shop, problems } = readConfigurationFile(text);
  expect(problems).toEqual([]);
  if (!shop) throw new Error('the file is wrong');
  return configurationFor(shop, path);
};

describe('a right file', () => {
  const whole = read(WHOLE_SHOP_FILE);

  test('is taken whole', () => {
    expect(whole.profile).toEqual({
      ...PROFILES.iso,
      offsetRegister: 'diameter',
      turns: { letter: 'L', counts: 'extra' },
      extraM: [21, 22],
    });
    expect(whole.tools.map((row) => [row.number, row.kind, row.diameter])).toEqual([
      [1, 'end-mill', 10],
      [2, 'drill', 5],
      [3, 'countersink', 12],
      [4, 'tap', undefined],
    ]);
    expect(whole.tools[3].holder).toEqual({
      kind: 'reversing',
      ratio: 1.75,
      selfFeed: 3,
      freeUp: 5,
      float: 2,
      torque: 12,
    });
    expect(whole.machine?.axes.X).toEqual({ min: -560, max: 0, rapid: 20_000, acceleration: 2500, reference: 0 });
    expect(whole.machine).toMatchObject({ topFeed: 8000, topSpeed: 10_000, power: 7.5, toolChange: 4 });
    expect(whole.machine?.workOffsets).toEqual({
      G54: { X: -250, Y: -150, Z: -420, A: 0 },
      'G54.1 P2': { X: -100 },
    });
    expect(whole.material).toEqual({
      name: 'plate',
      kc11: 700,
      mc: 0.25,
      cuttingSpeed: { hss: [60, 100], carbide: [200, 400] },
    });
    expect(whole.stock).toEqual({ offset: 'G54', shape: 'box', min: [0, 0, -20], max: [80, 50, 0] });
    expect(whole.limits).toEqual({ steps: 100_000, depth: 8, moves: 200_000, seconds: 20 });
    expect(whole.blockNumbers).toEqual({ write: true, start: 5, step: 5 });
    expect([whole.blockDelete, whole.holder]).toEqual(['skip', 'float']);
    expect(whole.rules).toEqual({ 'units-unset': 'off', 'feed-missing': 'warning' });
  });

  test('what is not used yet is said', () => {
    expect(readConfigurationFile(WHOLE_SHOP_FILE).notUsedYet).toEqual(['blockNumbers']);
    expect(readConfigurationFile('{ "machine": { "axes": {} } }').notUsedYet).toEqual([]);
  });

  test('an empty group gives the defaults', () => {
    expect(read('{}')).toEqual(DEFAULT_CONFIGURATION);
    expect(read('{ "blockNumbers": { "step": 2 } }').blockNumbers).toEqual({ write: false, start: 10, step: 2 });
    expect(read('{ "machine": { "topSpeed": 6000 } }').machine).toEqual({ topSpeed: 6000, axes: {}, workOffsets: {} });
  });

  test('a material that is not in force, and names like those of the language', () => {
    expect(read('{ "materials": { "plate": {} } }').material).toBeUndefined();
    expect(read('{ "materials": { "__proto__": { "mc": 0.2 } }, "material": "__proto__" }').material).toEqual({
      name: '__proto__',
      mc: 0.2,
    });
  });

  test('inch lengths and feeds become mm; degrees, times, speeds and accelerations stay', () => {
    const inch = read(`{ "units": "inch", "profile": { "peckRetract": 0.02 },
      "tools": [{ "number": 1, "kind": "tap", "thread": "M6", "diameter": 0.5, "cornerRadius": 0.1, "tip": 0.2, "length": 4,
        "fluteLength": 1, "pointAngle": 135, "rampLimit": 5, "holder": { "kind": "float", "float": 0.1, "selfFeed": 0.2, "freeUp": 0.3, "torque": 4 } }],
      "machine": { "axes": { "X": { "min": -20, "max": 0, "rapid": 400, "acceleration": 900, "reference": -1 },
          "B": { "min": -90, "max": 90, "rapid": 3000, "reference": 5 } },
        "topFeed": 300, "topSpeed": 8000, "power": 5, "cornerTolerance": 0.001, "toolChange": 3, "spindleRunUp": 1,
        "workOffsets": { "G54.1P7": { "X": -10, "C": 45 } } },
      "stock": { "shape": "box", "min": [0, 0, -1], "max": [4, 2, 0] },
      "programs": { "round.nc": { "stock": { "shape": "cylinder", "diameter": 2, "centre": [1, 1], "top": 0, "bottom": -1 } } } }`);
    const near = (value: number | undefined) => Math.round((value ?? Number.NaN) * 1e9) / 1e9;
    const [tool] = inch.tools;
    expect([tool.diameter, tool.cornerRadius, tool.tip, tool.length, tool.fluteLength].map(near)).toEqual([
      12.7, 2.54, 5.08, 101.6, 25.4,
    ]);
    expect([tool.pointAngle, tool.rampLimit, tool.holder?.torque]).toEqual([135, 5, 4]);
    expect([tool.holder?.float, tool.holder?.selfFeed, tool.holder?.freeUp].map(near)).toEqual([2.54, 5.08, 7.62]);
    expect(near(inch.profile.peckRetract)).toBe(0.508);
    expect(inch.machine?.axes).toEqual({
      X: { min: -508, max: 0, rapid: 10_160, acceleration: 900, reference: -25.4 },
      B: { min: -90, max: 90, rapid: 3000, reference: 5 },
    });
    expect([inch.machine?.topFeed, inch.machine?.cornerTolerance].map(near)).toEqual([7620, 0.0254]);
    expect([inch.machine?.topSpeed, inch.machine?.power, inch.machine?.toolChange]).toEqual([8000, 5, 3]);
    expect(inch.machine?.workOffsets).toEqual({ 'G54.1 P7': { X: -254, C: 45 } });
    expect(inch.stock).toEqual({ offset: 'G54', shape: 'box', min: [0, 0, -25.4], max: [101.6, 50.8, 0] });
  });

  test('a part of a profile’s group keeps the rest of the preset', () => {
    expect(read('{ "profile": { "base": "rs274ngc", "start": { "units": 20 } } }').profile).toEqual({
      ...PROFILES.rs274ngc,
      start: { ...PROFILES.rs274ngc.start, units: 20 },
    });
  });
});

describe('programs of their own', () => {
  test('a name that fits gets its own profile, material, stock and rules, and its tools by number', () => {
    const own = read(WHOLE_SHOP_FILE, 'parts/BRACKET-2.NC');
    expect(own.profile).toEqual(PROFILES['iso-macro']);
    expect(own.material?.name).toBe('bar steel');
    expect(own.stock).toMatchObject({ shape: 'cylinder', offset: 'G54', bottom: -30 });
    expect(own.rules).toEqual({ 'units-unset': 'off', 'feed-missing': 'error' });
    expect(own.tools.map((row) => [row.number, row.diameter])).toEqual([
      [1, 10],
      [2, 6.8],
      [3, 12],
      [4, undefined],
      [9, undefined],
    ]);
    // A row is replaced whole: the other drill's point is not taken over.
    expect(own.tools[1].pointAngle).toBeUndefined();
    expect(own.machine).toEqual(read(WHOLE_SHOP_FILE).machine);
  });

  test('others get what holds for all', () => {
    expect(read(WHOLE_SHOP_FILE, 'parts/plate.nc')).toEqual(read(WHOLE_SHOP_FILE));
    expect(read(WHOLE_SHOP_FILE, undefined)).toEqual(read(WHOLE_SHOP_FILE));
  });

  test('of several that fit the later one goes before the earlier', () => {
    const text = `{ "tools": [{ "number": 1, "kind": "drill" }], "programs": {
      "*.nc": { "rules": { "feed-missing": "hint", "units-unset": "off" }, "tools": [{ "number": 1, "kind": "tap" }, { "number": 2, "kind": "tap" }] },
      "plate.*": { "rules": { "feed-missing": "off" }, "tools": [{ "number": 1, "kind": "reamer" }] } } }`;
    const own = read(text, 'plate.nc');
    expect(own.rules).toEqual({ 'feed-missing': 'off', 'units-unset': 'off' });
    expect(own.tools.map((row) => row.kind)).toEqual(['reamer', 'tap']);
    expect(read(text, 'other.nc').tools.map((row) => row.kind)).toEqual(['tap', 'tap']);
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
    ['{ "tools": [{ "number": 4, "kind": "drill", "diameter": -3 }] }', '"diameter" is -3; it must be more than 0.'],
    ['{ "stock": { "shape": "box", "min": [0, 0], "max": [1, 1, 1] } }', '"min" has 2 values; it takes 3.'],
    ['{ "stock": { "min": [0, 0, 0] } }', '"stock" needs "shape".'],
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
    ['['.repeat(200_000), 'Too many brackets lie within each other here.'],
    ['{ "limits": { "seconds": 1e999 } }', '"seconds" is too large.'],
  ];
  test.each(wrong.map(([text, message]) => [text.slice(0, 80), text, message]))('%s', (_, text, message) => {
    expect(messagesOf(text)[0]).toBe(message);
    expect(readConfigurationFile(text).shop).toBeUndefined();
  });

  test('the place is said, over any line end', () => {
    expect(readConfigurationFile('{\r\n  "version": 1,\r\n  "holder": "vice"\r\n}').problems).toMatchObject([
      { line: 2, column: 12, endLine: 2, endColumn: 18 },
    ]);
  });

  test('what breaks the schema and what it cannot see are told together', () => {
    const text =
      '{ "tols": [], "material": "plate", "tools": [{ "number": 1 }, { "number": 1, "kind": "tap" }, 7],\n "profile": "nowhere" }';
    expect(
      readConfigurationFile(text).problems.map(({ message, bySchema }) => [bySchema, message.slice(0, 24)]),
    ).toEqual([
      [true, '"tols" is not known in t'],
      [false, '"plate" is not in "mater'],
      [true, 'A value of "tools" needs'],
      [false, 'Tool 1 is in the table t'],
      [true, 'A value of "tools" must '],
      [false, '"nowhere" is no preset ('],
    ]);
  });

  test('what the schema cannot see is said at its place, in the order of the text', () => {
    const text = '{\n "material": "plate",\n "programs": {\n  "a//": { "profile": "nowhere.json" }\n } }';
    expect(readConfigurationFile(text).problems).toMatchObject([
      { line: 1, column: 13, message: expect.stringContaining('"materials"') },
      { line: 3, column: 2, message: expect.stringContaining('folder') },
      { line: 3, column: 22, message: expect.stringContaining('nowhere.json') },
    ]);
  });
});

describe('a profile in a file of its own', () => {
  const files: Record<string, string> = {
    'mill.json': '{ "base": "iso-macro", "maxM": 1 }',
    'bad.json': '{\n "maxM": 0 }',
  };
  const readFile = (name: string) => files[name];

  test('is asked for by name, wherever it is named', () => {
    expect(profileFilesOf('{ "profile": "mill.json", "programs": { "*.nc": { "profile": "b.json" } } }')).toEqual([
      'mill.json',
      'b.json',
    ]);
    expect(profileFilesOf('{ "profile": "iso" }')).toEqual([]);
    expect(profileFilesOf('{ "profil')).toEqual([]);
  });

  test('is taken over its base', () => {
    const { shop } = readConfigurationFile('{ "profile": "mill.json" }', readFile);
    expect(shop?.common.profile).toEqual({ ...PROFILES['iso-macro'], maxM: 1 });
    expect(profileByName('mill.json', readFile)).toMatchObject({ maxM: 1 });
  });

  test('is reported at each place that names it where it is wrong', () => {
    const message = 'The profile in "bad.json" is wrong at line 2, column 10: "maxM" is 0; it must be at least 1.';
    expect(readConfigurationFile('{ "profile": "bad.json" }', readFile).problems).toMatchObject([{ message, line: 0 }]);
    const inPrograms = '{ "programs": { "*.nc": {\n"profile": "bad.json" } } }';
    expect(readConfigurationFile(inPrograms, readFile).problems).toMatchObject([{ message, line: 1, column: 11 }]);
  });
});

// Generated blocks on the command line: values in all their forms, help, and one clear line where there is no block.
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, describe, expect, test } from 'vitest';
import { BLOCKS } from '../../server/src/core/blocks/registry.ts';
import { buildCommandLine, type Outcome } from '../harness/commandLine.ts';

const line = buildCommandLine();
let folder = '';

beforeEach(() => {
  folder = line.folder();
});

const run = (...args: string[]): Outcome => line.run(['block', ...args], { cwd: folder, input: '' });
const BORE = ['helical-bore', '--bore', '20', '--tool', '12', '--depth', '6', '--speed', '2000', '--feed', '200'];

/** One thing is wrong in one line; several have a line each below the first. */
const expectUnusable = ({ code, out, err }: Outcome, ...said: string[]) => {
  const below = err.split('\n').slice(1, -1);
  expect({ code, out }).toEqual({ code: 2, out: '' });
  expect(err).toMatch(
    below.length === 0 ? /^blockwright: .+\n$/ : /^blockwright: .+ is not written, for \d reasons:\n/,
  );
  for (const text of below) expect(text).toMatch(/^ {2}(?:--[a-z.-]+: |.+ belongs to no parameter\.$)/);
  for (const words of said) expect(err).toContain(words);
};

describe('a block', () => {
  test('is printed with its markers, and passes check', () => {
    const { code, out, err } = run(...BORE);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toMatch(/^\( BLOCKWRIGHT-BLOCK HELICAL-BORE BORE=20 /);
    expect(out).toMatch(/\( BLOCKWRIGHT-END HELICAL-BORE BODY=[0-9A-F]{8} FOR=[0-9A-F]{8} \)\n$/);
    writeFileSync(join(folder, 'part.nc'), `G17 G21 G40 G49 G80 G90 G54\n${out}M30\n`);
    expect(line.run(['check', 'part.nc', '--severity', 'error'], { cwd: folder }).code).toBe(0);
  });

  test.each([
    [['--top', '-5'], ['--top=-5']],
    [['--through'], ['--through', 'yes']],
    [['--through=no'], []],
    [
      ['--at', '-5,3;10,20'],
      ['--at=-5,3', '--at', '10,20'],
    ],
    [
      ['--lead', '0.05in'],
      ['--lead', '1.27'],
    ],
  ])('%j is the same as %j', (one, other) => {
    const first = run(...BORE, ...one);
    expect(first.code).toBe(0);
    // The lead is kept as it was typed, so only the body is compared.
    const body = ({ out }: Outcome) => out.split('\n').filter((text) => !text.includes('BLOCKWRIGHT'));
    expect(body(first)).toEqual(body(run(...BORE, ...other)));
  });

  test('a value changes it', () => {
    expect(run(...BORE, '--top', '-5').out).toContain('Z-11.');
    expect(run(...BORE).out).not.toContain('Z-11.');
    expect(run(...BORE, '--through').out).toContain('Z-6.5');
  });

  test('names with dots are an operation’s own, and what is wrong with them says so', () => {
    const holes = ['holes', '--pattern=row', '--count', '2', '--spacing', '20', '--drill.diameter', '8'];
    const { code, out, err } = run(...holes, '--drill.depth=15', '--drill.speed', '1200', '--drill.feed', '150');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    // The tip goes deeper than the full diameter by D/(2·tan 59°) = 2.403.
    expect(out).toMatch(/G8[1-3] X0\. Y0\. Z-17\.403 .*\nX20\. Y0\.\n/);
    expectUnusable(run(...holes, '--drill.depth=-1'), '--drill.depth: ');
  });

  test('--facts are on standard error, behind the block', () => {
    const { code, out, err } = run(...BORE, '--facts');
    expect(code).toBe(0);
    expect(out).toBe(run(...BORE).out);
    expect(err).toMatch(/^Spindle speed: 2000 rev\/min$/m);
  });

  test('a word of caution does not keep it back', () => {
    const { code, out, err } = run('start', '--program', '7', '--profile', 'rs274ngc');
    expect({ code, first: out.split('\n')[0] }).toEqual({ code: 0, first: 'G21' });
    expect(err).toBe('Caution: --program: This control has no program numbers: the number is left out.\n');
  });

  test('a speed beyond sense is told behind the block, and does not look like a refusal', () => {
    const { code, out, err } = run('face', '--length=60', '--width=40', '--tool=50', '--depth=1', '--speed=60000');
    expect({ code, first: out.split(' ')[1] }).toEqual({ code: 0, first: 'BLOCKWRIGHT-BLOCK' });
    expect(err).toMatch(
      /^Caution: --speed: 60000 rev\/min is 9424\.8 m\/min with 50 mm, more than twice the 500 m\/min/m,
    );
    writeFileSync(join(folder, 'blockwright.json'), '{ "machine": { "topSpeed": 12000 } }');
    expectUnusable(
      run('face', '--length=60', '--width=40', '--tool=50', '--depth=1', '--speed=60000'),
      '--speed: Speed 60000 rev/min is over the machine’s 12000 rev/min. Give 12000 or less.',
    );
  });

  test('--program-units, profile and shop’s file decide how it is written', () => {
    expect(run('start').out).toMatch(/^O1000\nG21\n/);
    expect(run('start', '--program-units', 'inch').out).toContain('\nG20\n');
    expect(run('--program-units', 'inch', 'start').out).toContain('\nG20\n');
    expect(run('subprogram', '--repeats', '3').out).toBe('M98 P1000 L3\n');
    expect(run('--profile', 'iso-macro', 'subprogram', '--repeats', '3').out).toBe('M98 P0031000\n');
    mkdirSync(join(folder, 'shop'));
    const shop =
      '{ "blockNumbers": { "write": true }, "tools": [{ "number": 4, "kind": "drill", "lengthOffset": 44 }] }';
    writeFileSync(join(folder, 'blockwright.json'), shop);
    const { out } = run('tool-section', '--tool-number', '4', '--speed', '900');
    expect(out).toMatch(/^N10 G91 G28 Z0\.\nN20 G90\n/);
    expect(out).toContain('H44\n');
    const other = join(folder, 'shop', 'other.json');
    writeFileSync(other, '{}');
    expect(run('tool-section', '--tool-number', '4', '--speed', '900', '--config', other).out).toContain('H4\n');
  });
});

describe('no block', () => {
  test.each([
    [[], ['name a block', 'helical-bore, ']],
    [['nope'], ['there is no block nope', 'helical-bore, ']],
    [['nope', '--list'], ['there is no block nope']],
    [[...BORE, '--foo', '3'], ['--foo: There is no parameter foo.']],
    [[...BORE, '--foo=3'], ['--foo: There is no parameter foo.']],
    [[...BORE, 'bar'], ['bar belongs to no parameter']],
    [[...BORE, '--top', 'low'], ['--top: Top takes a number (mm)']],
    [[...BORE, '--through', 'maybe'], ['--through: Through takes yes or no, not maybe']],
    [[...BORE, '--direction', 'up'], ['takes one of climb, conventional, not up']],
    [
      ['helical-bore', '--bore', '20'],
      ['the block helical-bore is not written, for ', '\n  --tool: Cutter is missing', '\n  --depth: Depth is missing'],
    ],
    [['helical-bore', '--bore', '--tool', '10'], ['--bore wants a value in mm.']],
    [['helical-bore', '--bore'], ['blockwright: --bore wants a value in mm.']],
    [
      ['helical-bore', '--bore', '-4', '--tool', '0'],
      ['\n  --bore: Bore is -4 mm', '\n  --tool: Cutter is 0 mm'],
    ],
    [['helical-bore', '--direction'], ['blockwright: --direction wants one of climb, conventional.']],
    [['holes', '--at'], ['blockwright: --at wants a value (x,y;…).']],
    [['holes', '--spacing', '--at'], ['blockwright: --spacing wants a value']],
    [['holes', '--drill.tool-number'], ['blockwright: --drill.tool-number wants a number.']],
    [['start', '--config'], ['blockwright: --config wants a value (file).']],
    [['start', '--offset', 'G53'], ['--offset: G53 is no work offset']],
    [['start', '--profile', 'none'], ['"none" is no preset']],
    [['start', '--config', 'none.json'], ['none.json cannot be read']],
    [['start', '--program-units', 'ell'], ["'ell' is invalid"]],
    [['subprogram', '--profile', 'rs274ngc'], ['has no subprograms']],
  ])('%j', (args, said) => {
    expectUnusable(run(...args), ...said);
  });
});

describe('what there is', () => {
  test('--list names every block in a line of its own', () => {
    const { code, out, err } = run('--list');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    const lines = out.split('\n').slice(0, -1);
    expect(lines.map((text) => text.split(/ {2,}/))).toEqual(BLOCKS.map(({ name, summary }) => [name, summary]));
  });

  test('--help names all blocks', () => {
    const { code, out, err } = run('--help');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    for (const { name } of BLOCKS) expect(out).toContain(`  ${name} `);
    expect(run('holes', '--help').out).toContain('Put a list with ; in quotes');
  });

  test.each(BLOCKS.map(({ name, parameters }) => [name, parameters] as const))(
    '%s --help has all parameters with units, defaults and ranges',
    (name, parameters) => {
      const { code, out, err } = run(name, '--help');
      expect({ code, err }).toEqual({ code: 0, err: '' });
      const text = out.replace(/\s+/g, ' ');
      for (const parameter of parameters) {
        const unit = parameter.kind === 'number' && parameter.unit !== '' ? ` <${parameter.unit}>` : ' ';
        expect(text).toContain(` --${parameter.name}${unit}`);
        expect(text).toContain(parameter.help.replace(/\s+/g, ' '));
        if (parameter.fallback !== undefined) expect(text).toContain(`default ${parameter.fallback}`);
      }
    },
  );
});

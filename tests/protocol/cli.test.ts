// The command line as a person or a build server meets it: built, started, its output and exit code read.
import { spawn } from 'node:child_process';
import { chmodSync, mkdirSync, readdirSync, readFileSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeEach, describe, expect, test } from 'vitest';
import { buildCommandLine, type Outcome } from '../harness/commandLine.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const line = buildCommandLine();
let folder = '';

beforeEach(() => {
  folder = line.folder();
});

const RIGHT =
  '%\nG17 G21 G40 G49 G80 G90\nG54\nT1 M6 (END MILL D8)\nS2000 M3\nG0 X0. Y0.\nG43 Z5. H1\nG1 Z-1. F200\nX10.\nG2 X10. Y0. I-5. J0.\nG0 Z50.\nM30\n%\n';
const WRONG_CENTRE = RIGHT.replace('I-5. J0.', 'I-5. K3.');
const WRONG_LETTER = RIGHT.replace('X10.\n', 'X1O.\n');

const write = (name: string, content: string | Uint8Array): string => {
  writeFileSync(join(folder, name), content);
  return name;
};

function run(args: string[], input: string | Uint8Array = '', environment: NodeJS.ProcessEnv = {}): Outcome {
  return line.run(args, { cwd: folder, input, env: { ...process.env, ...environment } });
}

const expectUnusable = ({ code, out, err }: Outcome, said: string) => {
  expect({ code, out, lines: err.split('\n').length }).toEqual({ code: 2, out: '', lines: 2 });
  expect(err).toContain(said);
};

describe('what cannot be used', () => {
  test.each([
    [[], 'say what to do'],
    [['nope'], "unknown command 'nope'"],
    [['sheet', 'a.nc'], "unknown command 'sheet'"],
    [['check'], 'missing required argument'],
    [['check', '--nope', 'right.nc'], "unknown option '--nope'"],
    [['check', '--severity', 'fatal', 'right.nc'], "'fatal' is invalid"],
    [['check', '--format', 'xml', 'right.nc'], "'xml' is invalid"],
    [['check', '.'], 'is a folder'],
    [['check', 'right.nc', 'none.nc'], 'none.nc cannot be read: there is no such file'],
    [['check', '--profile', 'none', 'right.nc'], '"none" is no preset'],
    [['check', '--config', 'none.json', 'right.nc'], 'none.json cannot be read'],
    [['check', '--fix', '-'], '--fix needs a file'],
    [['trace', 'right.nc', 'right.nc'], 'too many arguments'],
    [['trace', 'right.nc', '--plane', 'XZ'], "'XZ' is invalid"],
    [['trace', '.'], 'is a folder'],
    [['serve'], '--stdio'],
  ])('%j', (args, said) => {
    write('right.nc', RIGHT);
    expectUnusable(run(args), said);
  });

  // A file without rights can be read all the same by the administrator; then another user is asked for.
  test('a file that may not be read', () => {
    write('right.nc', RIGHT);
    chmodSync(join(folder, write('secret.nc', RIGHT)), 0o000);
    const isRoot = process.getuid?.() === 0;
    if (isRoot) for (const path of [line.built, folder]) chmodSync(path, 0o755);
    const user = isRoot ? { uid: 65534, gid: 65534 } : {};
    const outcome = line.run(['check', 'right.nc', 'secret.nc'], { cwd: folder, ...user });
    expectUnusable(outcome, 'secret.nc cannot be read: you may not read it');
  });

  test('a wrong blockwright.json is said at its place', () => {
    write('right.nc', RIGHT);
    write('blockwright.json', '{\n  "rules": { "feed-missing": "loud" }\n}');
    expectUnusable(run(['check', 'right.nc']), 'blockwright.json:2:30 "feed-missing" is "loud"');
  });
});

describe('help and version', () => {
  test.each([['--help'], ['check', '--help'], ['trace', '--help'], ['serve', '--help']].map((args) => [args]))(
    '%j',
    (args) => {
      const { code, out, err } = run(args);
      expect({ code, err }).toEqual({ code: 0, err: '' });
      expect(out).toMatch(/^Usage: blockwright/);
      expect(out.endsWith('\n')).toBe(true);
    },
  );

  test('the version is that of the package', () => {
    const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
    expect(run(['--version'])).toEqual({ code: 0, out: `${version}\n`, err: '' });
  });
});

describe('check', () => {
  test('a right program: nothing found, exit code 0, and no promise', () => {
    write('right.nc', RIGHT);
    expect(run(['check', 'right.nc'])).toEqual({
      code: 0,
      out: '1 file, 13 lines: nothing found. That is no promise; prove the program on the machine.\n',
      err: '',
    });
  });

  test('a wrong one: place, severity, words, code, and exit code 1', () => {
    write('wrong.nc', WRONG_CENTRE);
    const { code, out } = run(['check', 'wrong.nc', '--severity', 'error']);
    expect(code).toBe(1);
    expect(out).toMatch(/^wrong\.nc:10:18 error K3\. .* \[arc-centre-off-plane\]\n/);
    expect(out).toMatch(/\n1 file, 13 lines: \d+ errors?\n$/);
  });

  test('json has the documented keys, places from 1, ends exclusive', () => {
    write('wrong.nc', WRONG_LETTER);
    const { code, out, err } = run(['check', 'wrong.nc', '--format', 'json', '--severity', 'error']);
    expect({ code, err }).toEqual({ code: 1, err: '' });
    const { version, files } = JSON.parse(out);
    expect(version).toBe(1);
    expect(Object.keys(files[0])).toEqual(['file', 'lines', 'findings']);
    expect(files[0]).toMatchObject({ file: 'wrong.nc', lines: 13 });
    const finding = files[0].findings.find((one: { rule: string }) => one.rule === 'letter-for-digit');
    expect(Object.keys(finding)).toEqual([
      'rule',
      'severity',
      'line',
      'column',
      'endLine',
      'endColumn',
      'message',
      'fixes',
    ]);
    expect(finding).toMatchObject({ severity: 'error', line: 9, column: 3, endLine: 9, endColumn: 4 });
    expect(finding.fixes[0]).toMatchObject({
      safe: true,
      edits: [{ line: 9, column: 3, endLine: 9, endColumn: 4, text: '0' }],
    });
  });

  test('an empty file has no lines and no finding', () => {
    write('empty.nc', '');
    expect(run(['check', 'empty.nc', '--format', 'json'])).toMatchObject({ code: 0 });
    expect(JSON.parse(run(['check', 'empty.nc', '--format', 'json']).out).files).toEqual([
      { file: 'empty.nc', lines: 0, findings: [] },
    ]);
  });

  test('standard input, byte order mark, CR LF', () => {
    const { code, out } = run(
      ['check', '-', '--format', 'json', '--severity', 'error'],
      `\ufeff${WRONG_CENTRE.replaceAll('\n', '\r\n')}`,
    );
    expect(code).toBe(1);
    expect(JSON.parse(out).files[0]).toMatchObject({
      file: '-',
      lines: 13,
      findings: [{ line: 10, column: 18, endColumn: 21 }],
    });
  });

  test('bytes that are no UTF-8: one error at the first, and --fix keeps its hands off', () => {
    const bytes = Buffer.concat([
      Buffer.from('%\nG21 (D\u00fcse '),
      Buffer.from([0xe4, 0xff]),
      Buffer.from(`)\n${WRONG_LETTER.slice(2)}`),
    ]);
    write('latin.nc', bytes);
    const { code, out, err } = run(['check', 'latin.nc', '--fix', '--format', 'json', '--severity', 'error']);
    expect(code).toBe(1);
    const bad = JSON.parse(out).files[0].findings.filter((one: { rule: string }) => one.rule === 'character-set');
    expect(bad).toMatchObject([{ severity: 'error', line: 2, column: 11, endColumn: 12 }]);
    expect(err).toContain('latin.nc is not repaired');
    expect(readFileSync(join(folder, 'latin.nc')).equals(bytes)).toBe(true);
  });

  test('more than 1,000 findings of a rule are counted, not listed', () => {
    write('many.nc', RIGHT.replace('X10.\n', 'X1O.\n'.repeat(1200)));
    const { files } = JSON.parse(run(['check', 'many.nc', '--format', 'json']).out);
    expect(files[0].findings.filter((one: { rule: string }) => one.rule === 'letter-for-digit')).toHaveLength(1000);
    expect(files[0].more).toBe(200);
  });

  test('the nearest blockwright.json upward, --config and --profile', () => {
    mkdirSync(join(folder, 'job'));
    write('blockwright.json', '{ "rules": { "letter-for-digit": "off" }, "blockNumbers": {} }');
    write('other.json', '{}');
    write('job/wrong.nc', WRONG_LETTER);
    const codes = (...args: string[]) =>
      JSON.parse(run(['check', 'job/wrong.nc', '--format', 'json', ...args]).out).files[0].findings.map(
        (one: { rule: string }) => one.rule,
      );
    expect(codes()).not.toContain('letter-for-digit');
    expect(codes('--config', 'other.json')).toContain('letter-for-digit');
    expect(run(['check', 'job/wrong.nc']).err).toBe(
      `blockwright: ${join(folder, 'blockwright.json')}: not used yet: blockNumbers\n`,
    );
    write('both.nc', RIGHT.replace('I-5. J0.', 'I-5. J0. R5.'));
    const strict = JSON.parse(run(['check', 'both.nc', '--format', 'json', '--profile', 'rs274ngc']).out).files[0]
      .findings;
    expect(strict).toContainEqual(expect.objectContaining({ rule: 'arc-centre-and-radius', severity: 'error' }));
  });

  test('colours are for terminals only', () => {
    write('wrong.nc', WRONG_LETTER);
    expect(run(['check', 'wrong.nc']).out).not.toContain('\u001b');
  });
});

describe('check --fix', () => {
  test('takes the safe repair, keeps the rest byte for byte, says what it changed', () => {
    const before = `\ufeff${WRONG_LETTER.replaceAll('\n', '\r\n')}`;
    write('wrong.nc', before);
    chmodSync(join(folder, 'wrong.nc'), 0o640);
    const { code, out } = run(['check', 'wrong.nc', '--fix']);
    expect(code).toBe(0);
    expect(out).toMatch(/^wrong\.nc:9:3 fixed .* \[letter-for-digit\]\n/);
    expect(out).toContain('1 file, 13 lines, 1 fixed: nothing found.');
    expect(readFileSync(join(folder, 'wrong.nc'), 'utf8')).toBe(before.replace('X1O.', 'X10.'));
    expect(statSync(join(folder, 'wrong.nc')).mode & 0o777).toBe(0o640);
    expect(readdirSync(folder)).toEqual(['wrong.nc']);
  });

  test('json names the repairs', () => {
    write('wrong.nc', WRONG_LETTER);
    const { files } = JSON.parse(run(['check', 'wrong.nc', '--fix', '--format', 'json']).out);
    expect(files[0].fixed).toMatchObject([{ rule: 'letter-for-digit', line: 9, column: 3 }]);
    expect(files[0].findings).toEqual([]);
  });

  test('a right program is not written', () => {
    write('right.nc', RIGHT);
    const before = statSync(join(folder, 'right.nc'));
    expect(run(['check', 'right.nc', '--fix']).code).toBe(0);
    expect(statSync(join(folder, 'right.nc')).ino).toBe(before.ino);
  });

  test('a link stays a link; the same program named twice is repaired once', () => {
    write('wrong.nc', WRONG_LETTER);
    symlinkSync('wrong.nc', join(folder, 'link.nc'));
    expect(run(['check', 'link.nc', 'wrong.nc', '--fix']).code).toBe(0);
    expect(readFileSync(join(folder, 'wrong.nc'), 'utf8')).toBe(RIGHT);
    expect(readdirSync(folder).sort()).toEqual(['link.nc', 'wrong.nc']);
  });

  test('where one file cannot be read, none is repaired', () => {
    write('wrong.nc', WRONG_LETTER);
    expectUnusable(run(['check', 'wrong.nc', 'none.nc', '--fix']), 'none.nc');
    expect(readFileSync(join(folder, 'wrong.nc'), 'utf8')).toBe(WRONG_LETTER);
  });
});

describe('trace', () => {
  test('json has the documented keys and values', () => {
    write('right.nc', RIGHT);
    const { code, out, err } = run(['trace', 'right.nc']);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    const path = JSON.parse(out);
    expect(Object.keys(path)).toEqual([
      'version',
      'file',
      'units',
      'moves',
      'extents',
      'cut',
      'length',
      'seconds',
      'tools',
      'complete',
    ]);
    expect(path.moves[0]).toEqual({
      line: 6,
      kind: 'rapid',
      from: [null, null, null],
      to: [0, 0, null],
      offset: 'G54',
      plane: 'XY',
      speed: 2000,
      tool: 1,
      length: 0,
      seconds: 0,
    });
    expect(path.moves.find((move: { kind: string }) => move.kind === 'arc')).toEqual({
      line: 10,
      kind: 'arc',
      from: [10, 0, -1],
      to: [10, 0, -1],
      offset: 'G54',
      plane: 'XY',
      centre: [5, 0, -1],
      radius: 5,
      endRadius: 5,
      sweep: -360,
      clockwise: true,
      feed: 200,
      speed: 2000,
      tool: 1,
      length: 31.415926536,
      seconds: 9.424777961,
    });
    expect(path.cut).toEqual({ min: [0, -5, -1], max: [10, 5, 5] });
    expect(path.extents).toEqual({ min: [0, -5, -1], max: [10, 5, 50] });
    expect(path.length).toEqual({ rapid: 51, cut: 47.415926536 });
    expect(path.seconds.total).toBeCloseTo((51 / 10_000 + 47.415926536 / 200) * 60, 6);
    expect(path.tools).toMatchObject([{ number: 1, line: 4, description: 'END MILL D8' }]);
    expect(path.complete).toBe(true);
  });

  test('an empty program has a path without moves', () => {
    expect(JSON.parse(run(['trace', '-']).out)).toMatchObject({
      moves: [],
      extents: null,
      cut: null,
      tools: [],
      complete: true,
    });
  });

  test('csv has the json keys, flattened, and as many rows as moves', () => {
    write('right.nc', RIGHT);
    const rows = run(['trace', 'right.nc', '--format', 'csv']).out.trimEnd().split('\n');
    expect(rows[0]).toBe(
      'line,kind,from.x,from.y,from.z,to.x,to.y,to.z,offset,plane,centre.x,centre.y,centre.z,radius,endRadius,sweep,clockwise,feed,speed,tool,length,seconds',
    );
    expect(rows).toHaveLength(1 + JSON.parse(run(['trace', 'right.nc']).out).moves.length);
    expect(rows).toContain('9,line,0,0,-1,10,0,-1,G54,XY,,,,,,,,200,2000,1,10,3');
    for (const row of rows) expect(row.split(',')).toHaveLength(22);
  });

  test('svg draws arcs as arcs, to scale', () => {
    write('right.nc', RIGHT);
    const { code, out } = run(['trace', 'right.nc', '--format', 'svg']);
    expect(code).toBe(0);
    expect(out).toMatch(/^<svg xmlns="http:\/\/www.w3.org\/2000\/svg" width="[\d.]+mm" height="[\d.]+mm" viewBox="/);
    expect(out).toContain('M0 0L10 0A5 5 0 0 1 0 0A5 5 0 0 1 10 0');
    expect(out).toContain('X 10.000 (0.000 to 10.000)');
    expect(out).toContain('Y 10.000 (-5.000 to 5.000)');
    expect(run(['trace', 'right.nc', '--format', 'svg', '--plane', 'ZX']).out).toContain('Z 51.000 (-1.000 to 50.000)');
  });

  test('svg rings a hole once, however many pecks it takes, and has room for its words', () => {
    write('hole.nc', 'G17 G21 G90\nT1 M6\nS500 M3\nG0 X5. Y7. Z5.\nG83 X5. Y7. Z-9. R2. Q2. F100.\nX6.\nG80\nM30\n');
    const { out } = run(['trace', 'hole.nc', '--format', 'svg']);
    expect([...out.matchAll(/M[\d.]+ -7a/g)].map(([ring]) => ring)).toEqual(['M4.1 -7a', 'M5.1 -7a']);
    const [, width, height] = /width="([\d.]+)mm" height="([\d.]+)mm"/.exec(out) ?? [];
    // 'X 1.000 (5.000 to 6.000)' in letters of 1.8 mm, a digit of which is at most 0.65 of its height wide.
    expect(Number(width)).toBeGreaterThan(24 * 1.8 * 0.65);
    expect(Number(height)).toBeGreaterThan(24 * 1.8 * 0.65);
  });

  test('a loop that never ends makes the path incomplete, and it is said where', () => {
    write('loop.nc', RIGHT.replace('X10.\n', 'N100 X10.\nGOTO 100\n'));
    const { out, err } = run(['trace', 'loop.nc']);
    expect(JSON.parse(out)).toMatchObject({ complete: false, stopped: { line: 9 } });
    expect(err).toContain('not complete from line 9 on');
  });

  test('errors in the program give exit code 1 and a word', () => {
    write('wrong.nc', WRONG_CENTRE);
    const { code, err } = run(['trace', 'wrong.nc']);
    expect(code).toBe(1);
    expect(err).toContain('the path may be wrong');
  });
});

describe('hard cases', () => {
  test('random bytes', () => {
    let seed = 12_345;
    const bytes = Uint8Array.from({ length: 200_000 }, () => (seed = (seed * 1_103_515_245 + 12_345) % 2 ** 31) >> 16);
    write('noise.nc', bytes);
    const { code, out } = run(['check', 'noise.nc', '--format', 'json']);
    expect(code).toBe(1);
    expect(JSON.parse(out).files[0].findings.length).toBeGreaterThan(0);
    expect([0, 1]).toContain(run(['trace', 'noise.nc', '--format', 'svg']).code);
  });

  test.each([
    ['remarks', '(ab) ', 0],
    ['stray characters', '@#! ', 1],
    ['one word again and again', 'X1. ', 1],
  ])('a single line of 5 MB: %s', (_, piece, wanted) => {
    write('long.nc', `G21\nG1 F100 ${piece.repeat(5_000_000 / piece.length)}\nM30`);
    const { code, out } = run(['check', 'long.nc', '--format', 'json']);
    expect(code).toBe(wanted);
    expect(JSON.parse(out).files[0].lines).toBe(3);
  });

  test('who reads only the beginning gets no complaint', async () => {
    write('path.nc', RIGHT.replace('X10.\n', `${'X10.\nX0.\n'.repeat(100_000)}X10.\n`));
    const child = spawn(process.execPath, [line.cli, 'trace', 'path.nc'], { cwd: folder });
    let err = '';
    child.stderr.on('data', (data) => (err += data));
    child.stdout.once('data', () => child.stdout.destroy());
    const code = await new Promise((resolve) => child.on('exit', resolve));
    expect({ code, err }).toEqual({ code: 0, err: '' });
  });

  test('a long path is streamed whole', () => {
    write('path.nc', RIGHT.replace('X10.\n', `${'X10.\nX0.\n'.repeat(60_000)}X10.\n`));
    expect(JSON.parse(run(['trace', 'path.nc']).out).moves.length).toBeGreaterThan(120_000);
  });
});

test('serve --stdio answers an editor', async () => {
  const child = spawn(process.execPath, [line.cli, 'serve', '--stdio'], { cwd: folder });
  const request = JSON.stringify({
    jsonrpc: '2.0',
    id: 1,
    method: 'initialize',
    params: { processId: null, rootUri: null, capabilities: {} },
  });
  child.stdin.write(`Content-Length: ${request.length}\r\n\r\n${request}`);
  const answer = await new Promise<string>((resolve) => {
    let text = '';
    child.stdout.on('data', (data) => {
      text += data;
      if (text.includes('"id":1')) resolve(text);
    });
    child.on('exit', () => resolve(text));
  });
  child.kill();
  expect(answer).toContain('"capabilities"');
});

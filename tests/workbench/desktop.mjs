// Tries the packed extension in a host like the desktop's (`npm run try:desktop`, Linux): a Node extension host, the server a
// process of its own. The host (292 MB, from npm) is installed once, outside the tree: in BLOCKWRIGHT_DESKTOP_HOST, else
// in the temp folder. Ends with 1 where a check fails.
import { spawn, spawnSync } from 'node:child_process';
import { cpSync, createWriteStream, existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { startVitest } from 'vitest/node';

const version = '4.100.3';
const root = fileURLToPath(new URL('../..', import.meta.url));
const cache = process.env.BLOCKWRIGHT_DESKTOP_HOST || join(tmpdir(), 'blockwright-desktop-host');

/** Runs a command to its end; throws with what it said where it fails. */
function run(command, args, options) {
  const { status, error, stdout, stderr } = spawnSync(command, args, { encoding: 'utf8', ...options });
  if (status !== 0) {
    throw new Error(`${command} ${args.join(' ')} failed: ${error?.message ?? `${stdout}\n${stderr}`}`);
  }
}

/** Stands for the host's own log writer, which would have to be compiled: without one it keeps no logs to read. */
const logWriter = `const { appendFileSync, mkdirSync } = require('node:fs');
const { dirname } = require('node:path');
const nothing = () => {};
const create = (name, path) => {
  let level = 2;
  mkdirSync(dirname(path), { recursive: true });
  const logger = { getLevel: () => level, setLevel: (value) => { level = value; }, flush: nothing, drop: nothing,
    clearFormatters: nothing, setPattern: nothing };
  for (const [weight, word] of ['trace', 'debug', 'info', 'warn', 'error', 'critical'].entries()) {
    logger[word] = (text) => { if (weight >= level) appendFileSync(path, '[' + word + '] ' + text + '\\n'); };
  }
  return logger;
};
exports.setFlushOn = nothing;
exports.setLevel = nothing;
exports.shutdown = nothing;
exports.createRotatingLogger = async (name, path) => create(name, path);
exports.createAsyncRotatingLogger = async (name, path) => create(name, path);
`;

/** Installs the host where it is not yet; gives its program. Nothing of it is compiled, no install script is run. */
function installHost() {
  const host = join(cache, `code-server-${version}`);
  const inner = join(host, 'node_modules/code-server/lib/vscode');
  const complete = join(host, 'complete');
  if (!existsSync(complete)) {
    console.log(`installing the host (292 MB) in ${host}`);
    const flags = ['--ignore-scripts', '--no-audit', '--no-fund', '--loglevel', 'error'];
    rmSync(host, { recursive: true, force: true });
    mkdirSync(host, { recursive: true });
    writeFileSync(join(host, 'package.json'), '{ "private": true }\n');
    run('npm', ['install', ...flags, `code-server@${version}`], { cwd: host });
    run('npm', ['install', ...flags, '--omit=dev'], { cwd: inner });
    writeFileSync(join(inner, 'node_modules/@vscode/spdlog/index.js'), logWriter);
    writeFileSync(complete, '');
  }
  return join(inner, 'out/server-main.js');
}

/** A port that is free now, on this machine only. */
function freePort() {
  return new Promise((resolve, reject) => {
    const probe = createServer().on('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const { port } = probe.address();
      probe.close(() => resolve(port));
    });
  });
}

/** Waits until the host answers; throws where it ends or does not answer within a minute. */
async function answers(address, host) {
  for (let tries = 0; tries < 240 && host.exitCode === null; tries++) {
    const answer = await fetch(address).catch(() => undefined);
    if (answer?.ok) return;
    await wait(250);
  }
  throw new Error('the host does not answer');
}

/** Ends the host with its whole process group: the extension host would outlive it. */
async function end(host) {
  for (const signal of ['SIGTERM', 'SIGKILL']) {
    try {
      process.kill(-host.pid, signal);
    } catch {
      return;
    }
    await wait(2_000);
  }
}

const scratch = mkdtempSync(join(tmpdir(), 'blockwright-desktop-'));
const place = (name) => join(scratch, name);
const environment = {
  ...process.env,
  HOME: place('home'),
  // No look at a gallery: nothing is asked of the outside.
  EXTENSIONS_GALLERY: '{"serviceUrl":""}',
  XDG_CONFIG_HOME: place('home/config'),
  XDG_DATA_HOME: place('home/data'),
  XDG_CACHE_HOME: place('home/cache'),
};
const folders = [
  '--server-data-dir',
  place('server'),
  '--user-data-dir',
  place('user'),
  '--extensions-dir',
  place('extensions'),
];
/** Nothing is told to the outside, and no tip covers what is tried. */
const settings = {
  'telemetry.telemetryLevel': 'off',
  'extensions.ignoreRecommendations': true,
  'workbench.startupEditor': 'none',
  'git.enabled': false,
};
let host;
try {
  const program = installHost();
  const extension = place('blockwright.vsix');
  run('npm', ['run', 'package', '--', '--out', extension], { cwd: root });
  mkdirSync(environment.HOME, { recursive: true });
  mkdirSync(place('user/Machine'), { recursive: true });
  writeFileSync(place('user/Machine/settings.json'), JSON.stringify(settings));
  run(process.execPath, [program, ...folders, '--accept-server-license-terms', '--install-extension', extension], {
    env: environment,
  });
  cpSync(join(root, 'examples'), place('programs'), { recursive: true });
  const port = await freePort();
  const options = [
    '--host',
    '127.0.0.1',
    '--port',
    String(port),
    '--without-connection-token',
    '--telemetry-level',
    'off',
  ];
  host = spawn(
    process.execPath,
    [program, ...options, ...folders, '--accept-server-license-terms', '--disable-workspace-trust'],
    { env: environment, detached: true, stdio: ['ignore', 'pipe', 'pipe'] },
  );
  const said = createWriteStream(place('host.log'));
  host.stdout.pipe(said, { end: false });
  host.stderr.pipe(said, { end: false });
  await answers(`http://127.0.0.1:${port}/`, host);
  process.env.BLOCKWRIGHT_DESKTOP_ADDRESS = `http://localhost:${port}/?folder=${place('programs')}`;
  process.env.BLOCKWRIGHT_DESKTOP_SCRATCH = scratch;
  process.env.BLOCKWRIGHT_DESKTOP_PID = String(host.pid);
  const trial = ['tests/workbench/desktop.trial.ts'];
  const times = { testTimeout: 120_000, hookTimeout: 180_000 };
  await (
    await startVitest('test', [], { config: false, root, include: trial, watch: false, bail: 1, ...times })
  )?.close();
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  process.exitCode = 1;
} finally {
  if (host) await end(host);
  if (process.exitCode && process.env.BLOCKWRIGHT_DESKTOP_KEEP) console.log(`left for looking at: ${scratch}`);
  else rmSync(scratch, { recursive: true, force: true });
}

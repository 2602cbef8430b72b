// The bench of the path view (`node tests/bench/view.mjs [lines [rounds [lines of the hop]]]`): frames in the headless browser beside frames of bare `three`,
// and the way of the pieces from an extension into its webview. Ratios within one run.
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';

const here = fileURLToPath(new URL('.', import.meta.url));
const root = fileURLToPath(new URL('../..', import.meta.url));
const cache = fileURLToPath(new URL('../.cache', import.meta.url));
// By software a picture of a million lines takes seconds: fewer unless more are asked for.
const [lines = 200_000, rounds = 5, hopLines = 1_000_000] = process.argv.slice(2).map(Number);
const common = { bundle: true, format: 'esm', mainFields: ['module', 'main'], logLevel: 'warning' };

/** A module of the project that is written in TypeScript, for this process. */
async function load(folder, name, entry) {
  const outfile = join(folder, `${name}.mjs`);
  await build({
    ...common,
    entryPoints: [join(root, entry)],
    outfile,
    platform: 'node',
    packages: 'external',
    // Modules that look for the project from where they stand must find it.
    define: { 'import.meta.url': JSON.stringify(pathToFileURL(join(root, entry)).href) },
  });
  return import(pathToFileURL(outfile).href);
}

/** Serves one page with the script, on this machine only. */
async function servePage(script) {
  const server = createServer((request, response) => {
    const isScript = request.url === '/page.js';
    response.setHeader('content-type', isScript ? 'text/javascript' : 'text/html; charset=utf-8');
    response.end(isScript ? script : '<body class="vscode-dark"><script type="module" src="/page.js"></script>');
  });
  await new Promise((done) => server.listen(0, '127.0.0.1', done));
  return { address: `http://127.0.0.1:${server.address().port}/`, close: () => server.close() };
}

const row = (what, figure, required) => process.stdout.write(`| ${what} | ${figure} | ${required} |\n`);

function showFrames({ vertices, pieces, results }) {
  for (const [view, [own, moving, wide, thin]] of Object.entries(results)) {
    const where = `a frame, ${view === 'top' ? 'flat' : 'in space'}`;
    row(`${where}, against the library's own lines of some width`, `${(own / wide).toFixed(2)} ×`, '≤ 1.25 ×');
    row(`${where}, in thin lines, against the same`, `${(moving / wide).toFixed(2)} ×`, '');
    row(
      `${where}, in thin lines, against the library's lines one pixel wide`,
      `${(moving / thin).toFixed(2)} × (${thin.toFixed(0)} ms)`,
      '≤ 1.25 ×',
    );
    row(`${where}, against its lines one pixel wide`, `${(own / thin).toFixed(2)} ×`, '');
  }
  row('drawn', `${vertices} vertices in ${pieces} pieces`, '');
}

async function benchFrames(openBrowser) {
  const { outputFiles } = await build({
    ...common,
    entryPoints: [join(here, 'viewPage.mjs')],
    globalName: 'bench',
    format: 'iife',
    platform: 'browser',
    write: false,
    outdir: here,
  });
  const script = outputFiles.find(({ path }) => path.endsWith('.js')).text;
  const served = await servePage(`${script}\nglobalThis.bench = bench;`);
  const context = await openBrowser();
  try {
    const page = await context.newPage();
    page.on('pageerror', (error) => console.error(error));
    await page.goto(served.address);
    await page.waitForFunction('globalThis.bench');
    showFrames(await page.evaluate(`bench.frames(${lines}, ${rounds})`));
    for (const [view, { median, most }] of Object.entries(await page.evaluate(`bench.picks(${lines}, 100)`))) {
      row(
        `a click, ${view === 'top' ? 'flat' : 'in space'}`,
        `${median.toFixed(1)} ms, most ${most.toFixed(1)} ms`,
        '',
      );
    }
  } finally {
    await context.close();
    served.close();
  }
}

/** An extension that hands pieces to a webview, and nothing else. */
async function makeHopExtension(folder) {
  const manifest = {
    name: 'hop',
    publisher: 'bench',
    version: '0.1.0',
    engines: { vscode: '^1.91.0' },
    browser: './dist/hop.js',
    activationEvents: ['onStartupFinished'],
  };
  await build({
    ...common,
    // The workbench reads its folder by the second one.
    entryPoints: { hop: join(here, 'viewHop.mjs'), 'workbench-files': join(root, 'client/workbench/fileSystem.ts') },
    outdir: join(folder, 'dist'),
    platform: 'browser',
    format: 'cjs',
    external: ['vscode'],
    banner: { js: `globalThis.linesOfTheBench = ${hopLines};` },
  });
  writeFileSync(join(folder, 'package.json'), JSON.stringify(manifest));
}

/** The text of the webview once there is one. */
async function resultIn(page) {
  for (const end = Date.now() + 300_000; Date.now() < end; ) {
    for (const frame of page.frames()) {
      const text = await frame
        .locator('pre.hop')
        .textContent({ timeout: 200 })
        .catch(() => '');
      if (text) return JSON.parse(text);
    }
    await page.waitForTimeout(500);
  }
  throw new Error('the webview of the hop says nothing');
}

async function benchHop(folder, openBrowser, serveWorkbench) {
  await makeHopExtension(folder);
  const served = await serveWorkbench({ root: folder, folder: join(folder, 'dist'), port: 0 });
  const context = await openBrowser();
  try {
    const page = await context.newPage();
    await page.goto(served.address);
    const { milliseconds, floor, bytes, sent, pieces } = await resultIn(page);
    if (bytes !== sent) throw new Error(`${sent} bytes were sent, ${bytes} came`);
    const ratio = milliseconds / floor;
    row(
      'the hop from extension to webview',
      `${ratio.toFixed(2)} F (${(bytes / 1e6).toFixed(0)} MB, ${pieces} pieces)`,
      '',
    );
  } finally {
    await context.close();
    await served.close();
  }
}

mkdirSync(cache, { recursive: true });
const folder = mkdtempSync(join(cache, 'bench-'));
try {
  const { openBrowser } = await load(folder, 'browser', 'tests/workbench/browser.ts');
  const { serveWorkbench } = await load(folder, 'server', 'client/workbench/server.ts');
  await benchHop(folder, openBrowser, serveWorkbench);
  await benchFrames(openBrowser);
} finally {
  rmSync(folder, { recursive: true, force: true });
}

// Builds everything that is run from source into dist/: node client/build/bundle.mjs [--watch] [--minify]
import { chmod, cp, mkdir, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build, context } from 'esbuild';

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const flags = new Set(process.argv.slice(2));
const unknown = [...flags].filter((flag) => flag !== '--watch' && flag !== '--minify');
if (unknown.length > 0) {
  console.error(`bundle: unknown option ${unknown.join(' ')}; known are --watch and --minify`);
  process.exit(2);
}

const node = { platform: 'node', format: 'cjs', target: 'node20' };
const browser = { platform: 'browser', target: 'es2022' };

/** One line a bundle: what is built, from where, for which host. */
const bundles = [
  { ...node, out: 'extension.node.js', entry: 'client/src/extension.node.ts', external: ['vscode'] },
  { ...browser, out: 'extension.web.js', entry: 'client/src/extension.web.ts', format: 'cjs', external: ['vscode'] },
  { ...node, out: 'server.node.js', entry: 'server/src/entries/node.ts' },
  { ...browser, out: 'server.worker.js', entry: 'server/src/entries/worker.ts', format: 'iife' },
  { ...browser, out: 'view.js', entry: 'client/view/main.ts', format: 'iife' },
  { ...browser, out: 'form.js', entry: 'client/form/main.ts', format: 'iife' },
  {
    ...node,
    out: 'cli.js',
    entry: 'server/src/entries/cli.ts',
    banner: { js: '#!/usr/bin/env node' },
  },
  { ...node, out: 'workbench.js', entry: 'client/workbench/main.ts' },
  {
    ...browser,
    out: 'workbench-files.js',
    entry: 'client/workbench/fileSystem.ts',
    format: 'cjs',
    external: ['vscode'],
  },
];

function optionsOf({ out, entry, ...rest }) {
  return {
    absWorkingDir: root,
    entryPoints: [entry],
    outfile: join('dist', out),
    bundle: true,
    sourcemap: flags.has('--minify') ? false : 'linked',
    minify: flags.has('--minify'),
    mainFields: ['module', 'main'],
    legalComments: 'none',
    logLevel: 'warning',
    ...rest,
  };
}

/** The rules' pages travel with the extension, so that a finding's code can open its page. */
async function copyRulePages() {
  const from = join(root, 'server/src/core/checks/rules');
  await rm(join(root, 'dist/rules'), { recursive: true, force: true });
  await mkdir(join(root, 'dist/rules'), { recursive: true });
  await cp(from, join(root, 'dist/rules'), {
    recursive: true,
    filter: (source) => source === from || source.endsWith('.md'),
  });
}

// The rest of dist/ is written over, not removed: a workbench that is open may be served from it.
await copyRulePages();
if (flags.has('--watch')) {
  const contexts = await Promise.all(bundles.map((one) => context(optionsOf(one))));
  await Promise.all(contexts.map((one) => one.watch()));
  console.log('watching; Ctrl+C ends it');
} else {
  try {
    await Promise.all(bundles.map((one) => build(optionsOf(one))));
    await chmod(join(root, 'dist/cli.js'), 0o755);
  } catch {
    // esbuild has said what is wrong already.
    process.exitCode = 1;
  }
}

/** Fences the layers: what each folder of the server may import. */
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, normalize, relative as relativePath } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const SOURCE = fileURLToPath(new URL('../../server/src/', import.meta.url));
const VIEW = fileURLToPath(new URL('../../client/view/', import.meta.url));
const FORM = fileURLToPath(new URL('../../client/form/', import.meta.url));

/** Layers from the bottom up; folders of one layer may use each other. */
const LAYERS: readonly (readonly string[])[] = [
  ['core/text', 'core/reference', 'core/geometry'],
  ['core/syntax'],
  ['core/machine'],
  ['core/checks', 'core/blocks'],
  ['core/features'],
  ['lsp'],
  ['entries'],
];

/** Type-only imports against the order: the reader is set up by the control profile, which is plain data. */
const TYPE_EXCEPTIONS: readonly string[] = [
  'core/syntax → core/machine/profile.ts',
  'core/geometry → core/machine/moves.ts',
];

/** General libraries that the core may use. */
const CORE_LIBRARIES: readonly string[] = ['jsonc-parser', 'minimatch'];

interface Import {
  readonly file: string;
  readonly target: string;
  readonly typeOnly: boolean;
}

const sourcesIn = (folder: string): string[] =>
  readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    if (statSync(path).isDirectory()) return sourcesIn(path);
    return /\.ts$/.test(name) && !/\.test\.ts$/.test(name) ? [path] : [];
  });

const importsOf = (file: string): Import[] => {
  const text = readFileSync(file, 'utf8');
  const statements = /^(?:import|export)\s+(type\s)?(?:[^'";]*?from\s+)?['"]([^'"]+)['"]/gm;
  const dynamic = /\bimport\(\s*['"]([^'"]+)['"]\s*\)/g;
  return [
    ...[...text.matchAll(statements)].map((match) => ({ file, target: match[2], typeOnly: match[1] !== undefined })),
    ...[...text.matchAll(dynamic)].map((match) => ({ file, target: match[1], typeOnly: false })),
  ];
};

const relative = (path: string): string => relativePath(SOURCE, path).replaceAll('\\', '/');
const layerOf = (path: string): number =>
  LAYERS.findIndex((folders) => folders.some((folder) => path.startsWith(`${folder}/`)));
const resolved = ({ file, target }: Import): string => relative(normalize(join(dirname(file), target)));

describe('the layers', () => {
  it.each(LAYERS.flat())('%s exists and has sources', (folder) => {
    expect(existsSync(join(SOURCE, folder))).toBe(true);
    expect(sourcesIn(join(SOURCE, folder)).length).toBeGreaterThan(0);
  });

  it('hold every source of the server', () => {
    expect(
      sourcesIn(SOURCE)
        .map(relative)
        .filter((path) => layerOf(path) < 0),
    ).toEqual([]);
  });

  it('are used from above only', () => {
    const wrong = sourcesIn(SOURCE)
      .flatMap(importsOf)
      .filter(({ target }) => target.startsWith('.'))
      .filter((one) => layerOf(resolved(one)) > layerOf(relative(one.file)) || layerOf(resolved(one)) < 0)
      .filter((one) => !isException(one));
    expect(wrong.map((one) => `${relative(one.file)} imports ${resolved(one)}`)).toEqual([]);
  });

  it('keep the core free of everything but small general libraries', () => {
    const outside = sourcesIn(join(SOURCE, 'core'))
      .flatMap(importsOf)
      .filter(({ target }) => !target.startsWith('.') && !CORE_LIBRARIES.includes(target));
    expect(outside.map(({ file, target }) => `${relative(file)} imports ${target}`)).toEqual([]);
  });

  it('keep Node out of the language server', () => {
    const node = sourcesIn(join(SOURCE, 'lsp'))
      .flatMap(importsOf)
      .filter(({ target }) => target.startsWith('node:'));
    expect(node.map(({ file, target }) => `${relative(file)} imports ${target}`)).toEqual([]);
  });

  it('keep the view free of the editor and of the parser', () => {
    const sources = sourcesIn(VIEW);
    expect(sources.length).toBeGreaterThan(0);
    const wrong = sources
      .flatMap(importsOf)
      .filter(({ target }) => /^vscode/.test(target) || /core\/(syntax|machine|checks|features)/.test(target));
    expect(wrong.map(({ file, target }) => `${file} imports ${target}`)).toEqual([]);
  });

  it('keep the form of blocks free of the editor and, but for types, of the server', () => {
    const sources = sourcesIn(FORM);
    expect(sources.length).toBeGreaterThan(0);
    const wrong = sources
      .flatMap(importsOf)
      .filter(({ target, typeOnly }) => /^vscode/.test(target) || (target.includes('server/') && !typeOnly));
    expect(wrong.map(({ file, target }) => `${file} imports ${target}`)).toEqual([]);
  });
});

const isException = (one: Import): boolean => {
  // The command line says its version.
  if (relative(one.file).startsWith('entries/') && resolved(one) === '../../package.json') return true;
  if (!one.typeOnly) return false;
  return TYPE_EXCEPTIONS.some((exception) => {
    const [from, to] = exception.split(' → ');
    return relative(one.file).startsWith(`${from}/`) && resolved(one) === to;
  });
};

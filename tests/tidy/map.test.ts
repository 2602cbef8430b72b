/** Holds the map in DEVELOPERS.md against the folders: every line names one that exists, and every folder of the house is named. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const TOP = new URL('../../', import.meta.url);
/** Folders whose own folders are all to be on the map. */
const HOUSE: readonly string[] = ['client/', 'server/src/', 'server/src/core/', 'tests/'];
const TOP_LEVEL: readonly string[] = [
  'CHANGELOG.md',
  'DEVELOPERS.md',
  'LICENSE',
  'README.md',
  'client',
  'examples',
  'package-lock.json',
  'package.json',
  'server',
  'snippets',
  'syntaxes',
  'tests',
  'tsconfig.json',
];
/** What building and installing leave behind; never committed. */
const LEFT_BEHIND: readonly string[] = ['dist', 'node_modules'];

const mapped = (): string[] =>
  [...readFileSync(new URL('DEVELOPERS.md', TOP), 'utf8').matchAll(/^- `([^`]+\/)` \S/gm)].map((match) => match[1]);

describe('the map in DEVELOPERS.md', () => {
  it('has lines, and each names a folder that exists', () => {
    expect(mapped().length).toBeGreaterThan(0);
    expect(mapped().filter((folder) => !existsSync(new URL(folder, TOP)))).toEqual([]);
  });

  it('names every folder of the house', () => {
    const folders = HOUSE.flatMap((house) =>
      readdirSync(new URL(house, TOP), { withFileTypes: true })
        .filter((entry) => entry.isDirectory() && !entry.name.startsWith('.'))
        .filter((entry) => readdirSync(new URL(`${house}${entry.name}/`, TOP)).length > 0)
        .map((entry) => `${house}${entry.name}/`),
    );
    const map = mapped();
    const covered = (folder: string) => map.includes(folder) || map.some((other) => other.startsWith(folder));
    expect(folders.filter((folder) => !covered(folder))).toEqual([]);
  });
});

describe('the top level', () => {
  it('holds what it is meant to hold and nothing else', () => {
    const entries = readdirSync(TOP).filter(
      (name) => !name.startsWith('.') && !LEFT_BEHIND.includes(name) && !/\.vsix$/.test(name),
    );
    expect(entries.filter((name) => !TOP_LEVEL.includes(name))).toEqual([]);
  });
});

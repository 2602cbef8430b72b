// `npm start`: opens the real workbench in the browser, with the extension active, on a folder of programs.
import { spawn } from 'node:child_process';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { type Served, serveWorkbench } from './server.ts';

const usage = `npm start -- [FOLDER] [--port N] [--no-open]

  FOLDER      the folder of programs to open (examples)
  --port N    the port wished for; a free one is taken where it is in use (4178)
  --no-open   only print the address`;

interface Wishes {
  readonly folder: string;
  readonly port: number;
  readonly open: boolean;
}

/** Reads the arguments; a string is what is wrong with them. */
function wishesFrom(args: readonly string[], root: string): Wishes | string {
  try {
    const { values, positionals } = parseArgs({
      args: [...args],
      allowPositionals: true,
      options: { port: { type: 'string', default: '4178' }, 'no-open': { type: 'boolean' }, help: { type: 'boolean' } },
    });
    const port = Number(values.port);
    if (values.help) {
      return usage;
    }
    if (!Number.isInteger(port) || port < 0 || port > 65535) {
      return `--port ${values.port} is no port number: give one from 0 to 65535.`;
    }
    if (positionals.length > 1) {
      return 'Give one folder only.';
    }
    const folder = positionals[0] === undefined ? join(root, 'examples') : resolve(positionals[0]);
    return { folder, port, open: !values['no-open'] };
  } catch (error) {
    return `${(error as Error).message}\n\n${usage}`;
  }
}

/** Opens the address in the person's own browser; where there is none, the printed address has to do. */
function openBrowser(address: string): void {
  const commands: Readonly<Record<string, readonly string[]>> = {
    darwin: ['open', address],
    win32: ['cmd', '/c', 'start', '""', address],
  };
  const [command, ...args] = commands[process.platform] ?? ['xdg-open', address];
  const child = spawn(command as string, args, {
    stdio: 'ignore',
    detached: true,
    windowsVerbatimArguments: process.platform === 'win32',
  });
  child.on('error', () => console.log('No browser could be opened from here: open the address by hand.'));
  child.unref();
}

function announce(served: Served, wishes: Wishes): void {
  if (wishes.port !== 0 && served.port !== wishes.port) {
    console.log(`Port ${wishes.port} is in use; taking ${served.port}.`);
  }
  console.log(`Blockwright in a workbench on ${wishes.folder} (saves land there):

  ${served.address}

To use it in a VS Code that is installed already: npm run package, then in its Extensions view
"Install from VSIX…" and the file blockwright-*.vsix of this folder.
Ctrl+C ends this.`);
}

async function run(): Promise<void> {
  const root = join(__dirname, '..');
  const wishes = wishesFrom(process.argv.slice(2), root);
  if (typeof wishes === 'string') {
    console.error(wishes);
    process.exitCode = wishes === usage ? 0 : 2;
    return;
  }
  try {
    const served = await serveWorkbench({ root, folder: wishes.folder, port: wishes.port });
    announce(served, wishes);
    if (wishes.open) {
      openBrowser(served.address);
    }
  } catch (error) {
    const reason = (error as NodeJS.ErrnoException).code === 'ENOENT' ? 'there is no such folder' : String(error);
    console.error(`Cannot open ${wishes.folder}: ${reason}.`);
    process.exitCode = 2;
  }
}

void run();

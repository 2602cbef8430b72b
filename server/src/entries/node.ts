/** Started by the extension on the desktop: `node server.node.js --stdio [--path-pipe]`, or `--node-ipc`. */
import { serveFromNode } from './nodeHost.ts';

serveFromNode({ ipc: process.argv.includes('--node-ipc'), pathPipe: process.argv.includes('--path-pipe') });

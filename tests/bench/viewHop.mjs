// A small extension of the bench: hands a path's pieces to a webview as the path view's panel does, and tells how long
// that took. Nothing else is at work: no server, no drawing.
import * as vscode from 'vscode';
import { floorOf, median } from './measure.ts';
import { finishingProgram } from './program.ts';
import { handOver } from './viewPieces.mjs';

const ROUNDS = 5;
/** Put there by `view.mjs`. */
const LINES = globalThis.linesOfTheBench;

/** The page counts the bytes that come and answers when a round is through. */
const page = (nonce) => `<!DOCTYPE html><html><head><meta http-equiv="Content-Security-Policy"
content="default-src 'none'; script-src 'nonce-${nonce}'"></head><body><pre class="hop"></pre><script nonce="${nonce}">
const host = acquireVsCodeApi();
let bytes = 0;
addEventListener('message', ({ data }) => {
  if (data.type === 'piece') bytes += data.data.byteLength;
  if (data.type === 'end') { host.postMessage({ bytes }); bytes = 0; }
  if (data.type === 'result') document.querySelector('.hop').textContent = JSON.stringify(data.result);
});
host.postMessage({ isReady: true });
</script></body></html>`;

export async function activate() {
  const panel = vscode.window.createWebviewPanel('bench.hop', 'Hop', vscode.ViewColumn.One, { enableScripts: true });
  const { webview } = panel;
  const heard = () =>
    new Promise((resolve) => {
      const listener = webview.onDidReceiveMessage((message) => {
        listener.dispose();
        resolve(message);
      });
    });
  const ready = heard();
  webview.html = page('0123456789abcdef');
  await ready;
  const text = finishingProgram(LINES);
  const { pieces } = handOver(text);
  const floor = floorOf(text);
  const times = [];
  let bytes = 0;
  for (let round = 0; round < ROUNDS; round++) {
    const begin = performance.now();
    const answered = heard();
    for (const { id, data } of pieces) await webview.postMessage({ type: 'piece', uri: 'file:///a.nc', id, data });
    await webview.postMessage({ type: 'end' });
    ({ bytes } = await answered);
    times.push(performance.now() - begin);
  }
  const sent = pieces.reduce((sum, { data }) => sum + data.byteLength, 0);
  const result = {
    milliseconds: median(times),
    floor: (floor + floorOf(text)) / 2,
    bytes,
    sent,
    pieces: pieces.length,
  };
  await webview.postMessage({ type: 'result', result });
}

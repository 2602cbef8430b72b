// Where the path view starts, inside the webview.
import { type Host, PathApp } from './app.ts';
import type { Point } from './camera.ts';
import { readToView } from './messages.ts';
import './view.css';

declare global {
  function acquireVsCodeApi(): Host;
  interface Window {
    /** Lets a test ask where a point is seen and what colour is there. */
    blockwrightTest?: {
      project(point: Point): { x: number; y: number };
      pixel(x: number, y: number): [number, number, number];
    };
  }
}

const into = document.getElementById('path');
if (into) {
  const host = acquireVsCodeApi();
  const app = new PathApp(into, host);
  window.addEventListener('message', (event) => {
    const message = readToView(event.data);
    if (message) {
      app.take(message);
    }
  });
  window.blockwrightTest = { project: (point) => app.project(point), pixel: (x, y) => app.pixel(x, y) };
  host.postMessage({ type: 'ready' });
}

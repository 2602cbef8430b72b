// Where the form of a block starts, inside the webview.
import { BlockFormApp } from './app.ts';
import { type FromForm, isToForm } from './messages.ts';
import './form.css';

declare function acquireVsCodeApi(): { postMessage(message: FromForm): void };

const into = document.getElementById('form');
if (into) {
  const host = acquireVsCodeApi();
  const app = new BlockFormApp(into, (message) => host.postMessage(message));
  window.addEventListener('message', (event) => {
    if (isToForm(event.data)) {
      app.take(event.data);
    }
  });
  host.postMessage({ type: 'ready' });
}

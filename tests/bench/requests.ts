/** What an editor asks while somebody works: each request's time over stdio, on 10,000 lines and on a million. */
import { quantile, row } from './measure.ts';
import { seeded, tappedProgram } from './program.ts';
import { type Session, start, stop } from './session.ts';

const URI = 'file:///bench/tapped.nc';
const textDocument = { uri: URI };
/** Lines that an editor shows at once. */
const VISIBLE = 60;

interface Place {
  readonly line: number;
  readonly character: number;
}

type Params = (place: Place, count: number) => object;

const at: Params = (position) => ({ textDocument, position });
const visible: Params = ({ line }, count) => ({
  textDocument,
  range: { start: { line, character: 0 }, end: { line: Math.min(line + VISIBLE, count - 1), character: 0 } },
});
const whole: Params = () => ({ textDocument });
const options = { tabSize: 2, insertSpaces: true };

/** Requests with what they are asked with. Those of the whole program are not asked of a million lines by VS Code. */
const REQUESTS: readonly {
  readonly method: string;
  readonly params: Params;
  readonly offered: string;
  readonly ofAll?: boolean;
}[] = [
  { method: 'textDocument/hover', params: at, offered: 'hoverProvider' },
  { method: 'textDocument/completion', params: at, offered: 'completionProvider' },
  { method: 'textDocument/signatureHelp', params: at, offered: 'signatureHelpProvider' },
  { method: 'textDocument/definition', params: at, offered: 'definitionProvider' },
  {
    method: 'textDocument/references',
    params: (place) => ({ ...at(place, 0), context: { includeDeclaration: true } }),
    offered: 'referencesProvider',
    ofAll: true,
  },
  { method: 'textDocument/documentHighlight', params: at, offered: 'documentHighlightProvider', ofAll: true },
  { method: 'textDocument/prepareRename', params: at, offered: 'renameProvider' },
  { method: 'textDocument/prepareCallHierarchy', params: at, offered: 'callHierarchyProvider' },
  {
    method: 'textDocument/codeAction',
    params: ({ line, character }) => ({
      textDocument,
      range: { start: { line, character }, end: { line, character } },
      context: { diagnostics: [], triggerKind: 2 },
    }),
    offered: 'codeActionProvider',
  },
  { method: 'textDocument/inlayHint', params: visible, offered: 'inlayHintProvider' },
  { method: 'textDocument/semanticTokens/range', params: visible, offered: 'semanticTokensProvider' },
  {
    method: 'textDocument/rangeFormatting',
    params: (place, count) => ({ ...visible(place, count), options }),
    offered: 'documentRangeFormattingProvider',
  },
  {
    method: 'textDocument/selectionRange',
    params: (place) => ({ textDocument, positions: [place] }),
    offered: 'selectionRangeProvider',
  },
  { method: 'textDocument/documentSymbol', params: whole, offered: 'documentSymbolProvider', ofAll: true },
  { method: 'textDocument/foldingRange', params: whole, offered: 'foldingRangeProvider', ofAll: true },
  { method: 'textDocument/codeLens', params: whole, offered: 'codeLensProvider', ofAll: true },
  { method: 'textDocument/documentLink', params: whole, offered: 'documentLinkProvider', ofAll: true },
];

const open = async ({ connection }: Session, text: string): Promise<void> => {
  await connection.sendNotification('textDocument/didOpen', {
    textDocument: { uri: URI, languageId: 'cnc-program', version: 1, text },
  });
  await connection.sendRequest('textDocument/diagnostic', { textDocument });
};

const placesIn = (text: string, count: number): Place[] => {
  const lines = text.split('\n');
  const random = seeded(17);
  return Array.from({ length: count }, () => {
    const line = Math.floor(random() * lines.length);
    return { line, character: Math.floor(random() * (lines[line].length + 1)) };
  });
};

const measure = async (lines: number, times: number, limit: number): Promise<void> => {
  const text = tappedProgram(lines, lines < 100_000 ? 600 : 1000);
  const count = text.split('\n').length;
  const can = { documentSymbol: { hierarchicalDocumentSymbolSupport: true } };
  const session = await start(can, { blockForm: true, arcRepairs: true });
  await open(session, text);
  for (const { method, params, offered, ofAll = false } of REQUESTS) {
    const isOffered = (session.offered as Record<string, unknown>)[offered] !== undefined;
    if (!isOffered) continue;
    const taken: number[] = [];
    for (const place of placesIn(text, ofAll ? times / 5 : times)) {
      const begin = performance.now();
      // A place where the request has no meaning is answered too: by null or by words.
      await session.connection.sendRequest(method, params(place, count)).catch((): undefined => undefined);
      taken.push(performance.now() - begin);
    }
    const figure = `${quantile(taken, 0.5).toFixed(1)} / ${quantile(taken, 0.95).toFixed(1)} ms`;
    row(
      `${method.replace('textDocument/', '')}, ${lines.toLocaleString('en')} lines, p50 / p95`,
      figure,
      `≤ ${limit} ms`,
    );
  }
  await stop(session);
};

const main = async (): Promise<void> => {
  await measure(10_000, 400, 50);
  await measure(1_000_000, 100, 100);
};

void main();

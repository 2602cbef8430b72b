// The page with a block in sentences: plain HTML without a script, its links are commands.
import type { ExplainedMode, Explanation, SentencePart } from '../../server/src/core/features/explain.ts';

/** What the page's links do. */
export interface ExplainLinks {
  /** Address of the link to a line, from 0. */
  readonly toLine: (line: number) => string;
  /** Address of the link that has the page stay at its block, or follow the cursor again. */
  readonly toggle: string;
  readonly follows: boolean;
}

const ESCAPES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };

const escaped = (text: string): string => text.replace(/[&<>"]/g, (sign) => ESCAPES[sign] ?? sign);

/** The page; `nonce` is a word that nobody can guess. Without an explanation it says how to get one. */
export function explainPage(explanation: Explanation | undefined, links: ExplainLinks, nonce: string): string {
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'nonce-${nonce}'">
<title>Block in words</title>
<style nonce="${nonce}">${STYLE}</style>
</head>
<body>
${explanation ? bodyOf(explanation, links) : '<p>Put the cursor into a block of a CNC program.</p>'}
</body>
</html>`;
}

function bodyOf(explanation: Explanation, links: ExplainLinks): string {
  const { line, text, sentences, words, modes } = explanation;
  const head = `<h1><a href="${links.toLine(line)}">Line ${line + 1}</a></h1>\n<pre>${escaped(text)}</pre>`;
  const told = sentences.map((sentence) => `<p>${partsOf(sentence, links)}</p>`).join('\n');
  const wordRows = words.map(
    ({ title, text: meaning }) => `<tr><th>${escaped(title)}</th><td>${partsOf(meaning, links)}</td></tr>`,
  );
  const modeRows = modes.map(
    (mode) => `<tr><th>${escaped(mode.word)}</th><td>${escaped(mode.text)}</td><td>${originOf(mode, links)}</td></tr>`,
  );
  return [
    head,
    told,
    table('From, to, time', placeRows(explanation)),
    table('Its words', wordRows),
    table('What holds here', modeRows),
    `<p class="foot"><a href="${links.toggle}">${links.follows ? 'Stay at this block' : 'Follow the cursor'}</a></p>`,
  ].join('\n');
}

const table = (title: string, rows: readonly string[]): string =>
  rows.length === 0 ? '' : `<h2>${title}</h2>\n<table>\n${rows.join('\n')}\n</table>`;

function placeRows({ before, after, time }: Explanation): string[] {
  const rows =
    before === after
      ? [['Stands at', after]]
      : [
          ['From', before],
          ['To', after],
        ];
  return [...rows, ['Takes', time]]
    .filter(([, value]) => value !== '')
    .map(([name, value]) => `<tr><th>${name}</th><td>${escaped(value ?? '')}</td></tr>`);
}

const partsOf = (parts: readonly SentencePart[], links: ExplainLinks): string =>
  parts.map((part) => (typeof part === 'string' ? escaped(part) : lineLink(part.line, links))).join('');

const lineLink = (line: number, links: ExplainLinks): string => `<a href="${links.toLine(line)}">line ${line + 1}</a>`;

function originOf({ isOwn, line, program }: ExplainedMode, links: ExplainLinks): string {
  if (isOwn) return 'this block';
  if (line === undefined) return 'as the control starts';
  return program === undefined ? lineLink(line, links) : `O${program} line ${line + 1}`;
}

const STYLE = `
body { padding: 0 1rem 1rem; color: var(--vscode-editor-foreground); font-size: var(--vscode-font-size); line-height: 1.5; }
h1 { font-size: 1.2em; margin: 0.8rem 0 0.3rem; }
h2 { font-size: 1em; margin: 1.1rem 0 0.2rem; color: var(--vscode-descriptionForeground); font-weight: 600; }
pre { margin: 0 0 0.6rem; font-family: var(--vscode-editor-font-family); white-space: pre-wrap; }
p { margin: 0.3rem 0; }
a { color: var(--vscode-textLink-foreground); }
table { border-collapse: collapse; }
th { text-align: left; font-family: var(--vscode-editor-font-family); font-weight: normal; padding: 0 1.2em 0 0; vertical-align: top; white-space: nowrap; }
td { padding: 0 1.2em 0 0; vertical-align: top; }
.foot { margin-top: 1.2rem; }
`;

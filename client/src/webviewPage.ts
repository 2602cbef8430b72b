// The page that a webview runs in: nothing from outside, no script but our own.

/** What the page needs of the webview it is for. */
export interface PageParts {
  readonly title: string;
  /** Id of the element that the script builds its page into. */
  readonly root: string;
  /** Address of the script and of its style sheet inside the webview. */
  readonly script: string;
  readonly style: string;
  /** Where the webview serves local files from. */
  readonly source: string;
}

/** The page's text. */
export function webviewPage({ title, root, script, style, source }: PageParts): string {
  const nonce = makeNonce();
  const policy = [
    "default-src 'none'",
    `script-src 'nonce-${nonce}'`,
    `style-src ${source}`,
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title>
<link rel="stylesheet" href="${style}">
</head>
<body>
<main id="${root}"></main>
<script nonce="${nonce}" src="${script}"></script>
</body>
</html>`;
}

/** A word that cannot be guessed; only a script that carries it is run. */
function makeNonce(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(18));
  return btoa(String.fromCharCode(...bytes)).replace(/[+/=]/g, '0');
}

/** Programs and small helpers for the protocol tests. */
import type { Diagnostic, TextEdit, WorkspaceEdit } from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { TestClient } from './client.ts';

/** A right program with one wrong arc: line 7 has a K where the XY plane wants a J. */
export const PLATE = `%
O1001 (PLATE, A CORNER AND A HOLE)
N10 G17 G21 G40 G49 G80 G90 G54
N20 T1 M6 (6MM END MILL)
N30 S3000 M3
N40 G0 G43 H1 X0. Y0. Z5.
N50 G1 Z-1. F200
N60 G3 X10. Y10. I0. K10.
N70 G0 Z5.
N80 T2 M6 (DRILL D5)
N90 S2000 M3
N100 G0 G43 H2 X5. Y5. Z5.
N110 G83 X5. Y5. Z-12. R2. Q3. F100
N120 X15.
N130 G80
N140 G0 Z50.
(REMARK ONE)
(REMARK TWO)
N150 M30
%
`;

/** The line of the wrong arc, and the columns of its K word. */
export const WRONG_ARC = { line: 7, column: 21, endColumn: 25 } as const;

export const PULL = {
  textDocument: {
    diagnostic: {},
    documentSymbol: { hierarchicalDocumentSymbolSupport: true },
    codeAction: { codeActionLiteralSupport: { codeActionKind: { valueSet: ['quickfix'] } } },
  },
  workspace: { workspaceEdit: { documentChanges: true } },
};
export const PUSH = { textDocument: { documentSymbol: {} } };

export const ADDRESS = 'untitled:plate.nc';

/** Opens a program. */
export function open(client: TestClient, text: string, uri = ADDRESS): void {
  client.notify('textDocument/didOpen', { textDocument: { uri, languageId: 'cnc-program', version: 1, text } });
}

/** Asks for the findings. */
export async function pull(client: TestClient, uri = ADDRESS): Promise<Diagnostic[]> {
  const report = await client.request<{ kind: string; items: Diagnostic[] }>('textDocument/diagnostic', {
    textDocument: { uri },
  });
  return report.items;
}

/** Codes of findings with their lines, in order. */
export const codes = (findings: readonly Diagnostic[]): string[] =>
  findings.map((finding) => `${finding.range.start.line} ${finding.code}`);

/** A text with the edits of an action applied. */
export function applied(text: string, edit: WorkspaceEdit): string {
  const edits = edit.documentChanges
    ? edit.documentChanges.flatMap((change) => ('edits' in change ? (change.edits as TextEdit[]) : []))
    : Object.values(edit.changes ?? {}).flat();
  return TextDocument.applyEdits(TextDocument.create(ADDRESS, 'cnc-program', 1, text), edits);
}

/** Numbers in [0, 1) that are the same every time. */
export function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

/** What stands under the pointer. */
import { type Connection, MarkupKind, Range } from 'vscode-languageserver';
import { hoverAt } from '../core/features/hover.ts';
import type { Server } from './server.ts';
import { placeAsked } from './upToDate.ts';

/** Answers what a word, a variable or a block does. */
export function listenToHover(connection: Connection, server: Server): void {
  connection.onHover(async (params, token) => {
    const asked = await placeAsked(server, params, token);
    if (!asked) return null;
    const { program, line, column } = asked;
    const { analysis, configuration } = program;
    // Round brackets would end the link.
    const address = program.uri.replace(/[()]/g, (bracket) => (bracket === '(' ? '%28' : '%29'));
    const link = (at: number): string => `[line ${at + 1}](${address}#L${at + 1})`;
    const found = hoverAt(analysis, configuration, line, column, link);
    if (!found) return null;
    return {
      contents: { kind: MarkupKind.Markdown, value: found.markdown },
      range: Range.create(line, found.column, line, found.endColumn),
    };
  });
}

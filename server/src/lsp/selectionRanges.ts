/** How a selection grows: from the word to the program. */
import { type CancellationToken, type Connection, type Position, SelectionRange } from 'vscode-languageserver';
import { selectionSpans } from '../core/features/selectionRanges.ts';
import { toRange } from './convert.ts';
import { outlineIn } from './outline.ts';
import { lineWithin, positionsOf } from './params.ts';
import type { Server } from './server.ts';
import { inSlices } from './slices.ts';
import { upToDate } from './upToDate.ts';

/** Registers the handler. */
export function listenToSelectionRanges(connection: Connection, server: Server): void {
  connection.onSelectionRanges((params, token) => selectionRanges(server, params, token));
}

async function selectionRanges(
  server: Server,
  params: unknown,
  token: CancellationToken,
): Promise<SelectionRange[] | null> {
  const positions = positionsOf(params);
  const program = await upToDate(server, params, token);
  if (!program) return null;
  const { analysis } = program;
  for (const { line } of positions) lineWithin(line, analysis.lineCount);
  const outline = await outlineIn(server, program, token);
  // Hundreds of cursors read hundreds of blocks: a pause after each.
  function* each(): Generator<undefined, SelectionRange[]> {
    const ranges: SelectionRange[] = [];
    for (const position of positions) {
      if (ranges.length > 0) yield undefined;
      ranges.push(rangeAt(position));
    }
    return ranges;
  }
  const rangeAt = ({ line, character }: Position): SelectionRange => {
    const spans = selectionSpans(analysis, outline, line, character);
    const outermost = SelectionRange.create(toRange(spans[spans.length - 1]));
    return spans.slice(0, -1).reduceRight((parent, span) => SelectionRange.create(toRange(span), parent), outermost);
  };
  return inSlices(server, program, each(), token);
}

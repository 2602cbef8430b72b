// Where a block is to stand in a program, while the program is edited about it. Lines and columns from 0.

/** Before `line`, in place of the `replaced` lines from there on. */
export interface Place {
  readonly line: number;
  readonly replaced: number;
}

/** The text that a place is in. */
export interface Lines {
  readonly lineCount: number;
  lineText(line: number): string;
}

/** A change of the text: what was there, and how many lines end in what came for it. */
export interface TextChange {
  readonly startLine: number;
  readonly endLine: number;
  readonly endColumn: number;
  readonly newLines: number;
}

/** A text in place of a range; `toColumn` may be past the end of the line. */
export interface Edit {
  readonly fromLine: number;
  readonly fromColumn: number;
  readonly toLine: number;
  readonly toColumn: number;
  readonly text: string;
}

const END_OF_LINE = Number.MAX_SAFE_INTEGER;

/** Where a block goes for a cursor: in place of a line without words (`isFree`), before a line at its beginning, else behind it. */
export function placeAt(line: number, column: number, isFree: boolean): Place {
  if (isFree) {
    return { line, replaced: 1 };
  }
  return { line: column === 0 ? line : line + 1, replaced: 0 };
}

/** The same place after a change; `touched` where the lines are changed that the block takes the place of. */
export function moved({ line, replaced }: Place, change: TextChange): Place & { readonly touched: boolean } {
  const { startLine, endLine, endColumn, newLines } = change;
  const more = newLines - (endLine - startLine);
  const isBefore = endLine < line || (endLine === line && endColumn === 0 && startLine < line);
  if (isBefore) {
    return { line: line + more, replaced, touched: false };
  }
  if (startLine >= line + replaced) {
    return { line, replaced, touched: false };
  }
  const first = Math.min(line, startLine);
  const end = Math.max(line + replaced, endLine + 1) + more;
  return { line: first, replaced: Math.max(0, end - first), touched: true };
}

/** The change that writes a block's lines. */
export function editFor({ line, replaced }: Place, block: readonly string[], lines: Lines, lineEnd: string): Edit {
  const text = block.join(lineEnd);
  const last = lines.lineCount - 1;
  if (replaced > 0) {
    const end = line + replaced - 1;
    // Behind the last line of a program its line end is written too.
    const closed = end >= last ? text + lineEnd : text;
    return { fromLine: line, fromColumn: 0, toLine: end, toColumn: END_OF_LINE, text: closed };
  }
  if (line <= last) {
    return { fromLine: line, fromColumn: 0, toLine: line, toColumn: 0, text: text + lineEnd };
  }
  const at = { fromLine: last, fromColumn: END_OF_LINE, toLine: last, toColumn: END_OF_LINE };
  return { ...at, text: lineEnd + text + lineEnd };
}

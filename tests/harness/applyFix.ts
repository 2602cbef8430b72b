/** Text edits of a fix, applied to a program. */

interface Edit {
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
  readonly text: string;
}

/** The program after all edits of a fix; lines and columns count from 0 and mean the text before. */
export const applyEdits = (program: string, edits: readonly Edit[]): string => {
  const starts = [0];
  for (let i = 0; i < program.length; i++) if (program[i] === '\n') starts.push(i + 1);
  const offset = (line: number, column: number) => starts[line] + column;
  const inOrder = [...edits].sort((a, b) => offset(b.line, b.column) - offset(a.line, a.column));
  let text = program;
  for (const edit of inOrder) {
    text = text.slice(0, offset(edit.line, edit.column)) + edit.text + text.slice(offset(edit.endLine, edit.endColumn));
  }
  return text;
};

/** Programs that carry their expected ranges: a line of spaces and `^` marks the words above it and is not run. */

/** A marked range; line and columns count from 0, `endColumn` is exclusive. */
export interface Mark {
  readonly line: number;
  readonly column: number;
  readonly endColumn: number;
}

/** A program without its mark lines, and the marks. One leading line end is dropped, so that a program may begin on its own line. */
export const readMarks = (marked: string): { program: string; marks: Mark[] } => {
  const lines: string[] = [];
  const marks: Mark[] = [];
  for (const line of marked.replace(/^\n/, '').split('\n')) {
    if (/^[ ^]*\^[ ^]*$/.test(line)) {
      for (const run of line.matchAll(/\^+/g)) {
        marks.push({ line: lines.length - 1, column: run.index, endColumn: run.index + run[0].length });
      }
    } else lines.push(line);
  }
  return { program: lines.join('\n'), marks };
};

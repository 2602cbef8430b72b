/** `check --fix`: applies the first safe fix of each finding. */
import type { Analysis, Finding } from '../../core/checks/analysis.ts';

type Edit = Finding['fixes'][number]['edits'][number];

/** A fix that was applied. */
export interface AppliedFix {
  readonly finding: Finding;
  readonly title: string;
}

/**
 * Applies the first fix of each finding that marks itself safe to the text of an analysis, which is to be run again after.
 * A fix that would touch the place of one applied before it waits for the next time.
 */
export function applySafeFixes(analysis: Analysis, findings: readonly Finding[]): AppliedFix[] {
  const applied: AppliedFix[] = [];
  const edits: Edit[] = [];
  for (const finding of findings) {
    const fix = finding.fixes.find((one) => one.safe);
    if (fix === undefined || fix.edits.some((edit) => edits.some((other) => touches(edit, other)))) continue;
    edits.push(...fix.edits);
    applied.push({ finding, title: fix.title });
  }
  // From the end, so that the places before stay as they are.
  edits.sort((a, b) => b.line - a.line || b.column - a.column);
  for (const edit of edits) analysis.edit(edit.line, edit.column, edit.endLine, edit.endColumn, edit.text);
  return applied;
}

const isBefore = (line: number, column: number, otherLine: number, otherColumn: number): boolean =>
  line < otherLine || (line === otherLine && column < otherColumn);

/** True if two edits overlap or begin or end at one place. */
const touches = (a: Edit, b: Edit): boolean =>
  !isBefore(a.endLine, a.endColumn, b.line, b.column) && !isBefore(b.endLine, b.endColumn, a.line, a.column);

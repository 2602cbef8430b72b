/** Which findings a place has, and the remark that silences one. Lines and columns count from 0. */
import type { Analysis } from '../checks/analysis.ts';
import type { Finding } from '../checks/findings.ts';
import type { ControlProfile } from '../machine/profile.ts';
import { BlockKind } from '../syntax/block.ts';

/** Findings that touch a range (its ends included), in their order. */
export function findingsBetween(
  findings: readonly Finding[],
  line: number,
  column: number,
  endLine: number,
  endColumn: number,
): Finding[] {
  return findings.filter((finding) => {
    const endsBefore = finding.endLine < line || (finding.endLine === line && finding.endColumn < column);
    const startsBehind = finding.line > endLine || (finding.line === endLine && finding.column > endColumn);
    return !endsBefore && !startsBehind;
  });
}

/** Text to insert at a place. */
export interface Insertion {
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
  readonly text: string;
}

/**
 * The remark that silences a finding's rule in its block: behind the block, or on a line of its own before it where
 * the block ends in a remark that would swallow it, is a tape mark, or would become too long for the control.
 */
export function ignoreRemark(
  analysis: Analysis,
  finding: Finding,
  profile: ControlProfile,
  lineEnd: string,
): Insertion {
  const { line } = finding;
  const remark = remarkText(`blockwright-ignore ${finding.rule}`, profile);
  const length = analysis.lineText(line).length;
  const behind = profile.remarks.brackets || profile.remarks.semicolon;
  if (behind && canTakeRemark(analysis, line) && length + 1 + remark.length <= profile.lineLength) {
    return { line, column: length, endLine: line, endColumn: length, text: ` ${remark}` };
  }
  return { line, column: 0, endLine: line, endColumn: 0, text: `${remark}${lineEnd}` };
}

function remarkText(text: string, profile: ControlProfile): string {
  if (profile.remarks.brackets) return `( ${text} )`;
  return `${profile.remarks.semicolon ? ';' : '//'} ${text}`;
}

/** False for tape marks and for blocks whose last remark runs to the end of the line. */
function canTakeRemark(analysis: Analysis, line: number): boolean {
  const block = analysis.readBlock(line);
  return block.kind !== BlockKind.tapeMark && block.remarks.at(-1) !== block.end;
}

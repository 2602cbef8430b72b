/** Checks one program: its findings as they are told, with what the bytes of the file say. */
import { Analysis, type Finding } from '../../core/checks/analysis.ts';
import type { SubprogramHost } from '../../core/checks/flow/host.ts';
import type { Severity } from '../../core/checks/rule.ts';
import { RULES } from '../../core/checks/rules.ts';
import type { Configuration } from '../../core/machine/configuration.ts';
import type { Progress } from './output.ts';
import type { ProgramFile } from './programFile.ts';

/** What was found in a program. */
export interface CheckedProgram {
  readonly name: string;
  /** An empty last line does not count. */
  readonly lines: number;
  readonly findings: readonly Finding[];
  /** Findings that are not listed, because their rule has more than are told. */
  readonly more: number;
  /** True if there is a finding of severity error, listed or not. */
  readonly hasErrors: boolean;
}

/** Severities from the gravest. */
export const SEVERITIES: readonly Severity[] = ['error', 'warning', 'hint'];

/** Time between two looks at the progress line, ms. */
const SLICE = 100;

/** Runs a program through, showing how far it is where that takes long. `host` finds its subprograms. */
export function analyse(
  file: ProgramFile,
  configuration: Configuration,
  host: SubprogramHost,
  progress: Progress,
): Analysis {
  const analysis = new Analysis(file.text, configuration, host);
  while (!analysis.settle(SLICE)) progress.show(file.name, analysis.progress);
  return analysis;
}

/** The findings of a program that are at least so grave. */
export function findingsOf(file: ProgramFile, analysis: Analysis, least: Severity): CheckedProgram {
  const { findings: own, more } = analysis.findings();
  const all = withBadBytes(file, analysis, own);
  const isTold = (finding: Finding) => SEVERITIES.indexOf(finding.severity) <= SEVERITIES.indexOf(least);
  const findings = all.filter(isTold);
  const toldRules = new Set(findings.map((finding) => finding.rule));
  const left = Object.entries(more).filter(([rule]) => toldRules.has(rule));
  return {
    name: file.name,
    lines: analysis.lineText(analysis.lineCount - 1) === '' ? analysis.lineCount - 1 : analysis.lineCount,
    findings,
    more: left.reduce((sum, [, count]) => sum + count, 0),
    hasErrors: all.some((finding) => finding.severity === 'error'),
  };
}

/** Bytes that are no UTF-8 are an error at the first place, which the text itself does not show any more. */
function withBadBytes(file: ProgramFile, analysis: Analysis, findings: readonly Finding[]): readonly Finding[] {
  if (file.badBytes === undefined) return findings;
  const { line, column } = file.badBytes;
  const isReplacement = (one: Finding) =>
    one.rule === 'character-set' && analysis.lineText(one.line).slice(one.column, one.endColumn) === '\ufffd';
  const message = RULES.find((rule) => rule.code === 'character-set')?.messages['bad-utf8'] ?? '';
  const range = { line, column, endLine: line, endColumn: column + 1 };
  const bad: Finding = { rule: 'character-set', severity: 'error', ...range, message, fixes: [] };
  const others = findings.filter((one) => !isReplacement(one));
  const behind = others.findIndex((one) => one.line > line || (one.line === line && one.column > column));
  return behind < 0 ? [...others, bad] : [...others.slice(0, behind), bad, ...others.slice(behind)];
}

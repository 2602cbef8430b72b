/** A program's findings as the protocol's diagnostics, made again only where they have changed. */
import type { Diagnostic } from 'vscode-languageserver';
import type { Finding } from '../core/checks/findings.ts';
import { toDiagnostic } from './convert.ts';
import type { Program } from './programs.ts';

/** All findings of a program, under an id that changes whenever they do. */
export interface FindingReport {
  readonly resultId: string;
  readonly items: Diagnostic[];
}

interface Kept extends FindingReport {
  readonly runCount: number;
  readonly findings: readonly Finding[];
  readonly more: Readonly<Record<string, number>>;
  readonly hints: readonly Diagnostic[];
}

/** Makes and keeps the report of each program. */
export class FindingReports {
  private readonly kept = new WeakMap<Program, Kept>();
  private readonly rulePage: ((code: string) => string) | undefined;
  private readonly hintsOf: (program: Program) => readonly Diagnostic[];
  private count = 0;

  /** `hintsOf` gives what is told beside the findings: the same list as long as it is the same. */
  constructor(
    rulePage: ((code: string) => string) | undefined,
    hintsOf: (program: Program) => readonly Diagnostic[] = () => [],
  ) {
    this.rulePage = rulePage;
    this.hintsOf = hintsOf;
  }

  /** The report of the program's last finished run. */
  of(program: Program): FindingReport {
    const known = this.kept.get(program);
    const hints = this.hintsOf(program);
    const hasSameHints = known?.hints === hints || (known?.hints.length === 0 && hints.length === 0);
    if (known?.runCount === program.runCount && hasSameHints) return known;
    const { findings, more } = program.analysis.findings();
    const report: Kept =
      known && hasSameHints && sameFindings(known.findings, findings) && sameCounts(known.more, more)
        ? { ...known, runCount: program.runCount, findings }
        : {
            resultId: String(++this.count),
            items: [...this.diagnostics(findings, more), ...hints],
            runCount: program.runCount,
            findings,
            more,
            hints,
          };
    this.kept.set(program, report);
    return report;
  }

  private diagnostics(findings: readonly Finding[], more: Readonly<Record<string, number>>): Diagnostic[] {
    const last = new Map(
      Object.keys(more).map((rule) => [rule, findings.map((finding) => finding.rule).lastIndexOf(rule)]),
    );
    return findings.map((finding, index) =>
      toDiagnostic(finding, last.get(finding.rule) === index ? more[finding.rule] : 0, this.rulePage),
    );
  }
}

const sameFindings = (a: readonly Finding[], b: readonly Finding[]): boolean =>
  a === b || (a.length === b.length && a.every((finding, index) => sameFinding(finding, b[index])));

const sameFinding = (a: Finding, b: Finding): boolean =>
  a === b ||
  (a.line === b.line &&
    a.column === b.column &&
    a.endLine === b.endLine &&
    a.endColumn === b.endColumn &&
    a.rule === b.rule &&
    a.severity === b.severity &&
    a.message === b.message);

const sameCounts = (a: Readonly<Record<string, number>>, b: Readonly<Record<string, number>>): boolean => {
  const keys = Object.keys(a);
  return keys.length === Object.keys(b).length && keys.every((key) => a[key] === b[key]);
};

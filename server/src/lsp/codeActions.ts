/** Quick fixes: the repairs of the findings in a range, best first, and the remark that silences one. */
import {
  type CodeAction,
  CodeActionKind,
  type Range,
  TextDocumentEdit,
  TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver';
import type { Finding } from '../core/checks/findings.ts';
import { findingsBetween, ignoreRemark } from '../core/features/fixes.ts';
import { alikeIn } from './arcRepairs.ts';
import { toDiagnostic, toRange, toTextEdits } from './convert.ts';
import type { Program } from './programs.ts';

/** The light bulb is looked for at every move of the cursor: where more findings are alike, only the list repairs them all. */
const MOST_FOR_THE_BULB = 100;

/** Makes the actions for one program. */
export class CodeActions {
  private readonly versionsEdits: boolean;
  private readonly rulePage: ((code: string) => string) | undefined;

  /** `versionsEdits`: the client takes edits that name the version of the text they were made for. */
  constructor(versionsEdits: boolean, rulePage: ((code: string) => string) | undefined) {
    this.versionsEdits = versionsEdits;
    this.rulePage = rulePage;
  }

  /** The actions for a range of an up-to-date program: first all repairs, then the remarks that silence. */
  at(program: Program, range: Range): CodeAction[] {
    const all = program.analysis.findings().findings;
    const findings = findingsBetween(all, range.start.line, range.start.character, range.end.line, range.end.character);
    return [
      ...findings.flatMap((finding) => this.repairs(program, finding)),
      ...findings.flatMap((finding) => this.repairsOfAll(program, finding, all)),
      ...this.silencings(program, findings),
    ];
  }

  private repairs(program: Program, finding: Finding): CodeAction[] {
    return finding.fixes.map((fix, index) => ({
      title: fix.title,
      kind: CodeActionKind.QuickFix,
      isPreferred: index === 0,
      diagnostics: [toDiagnostic(finding, 0, this.rulePage)],
      edit: this.edit(program, toTextEdits(fix.edits)),
    }));
  }

  /** The same repair for all arcs with the same fault. */
  private repairsOfAll(program: Program, finding: Finding, all: readonly Finding[]): CodeAction[] {
    if (all.filter(({ rule }) => rule === finding.rule).length > MOST_FOR_THE_BULB) return [];
    return alikeIn(program, finding, all).map(({ title, edits }) => ({
      title,
      kind: CodeActionKind.QuickFix,
      diagnostics: [toDiagnostic(finding, 0, this.rulePage)],
      edit: this.edit(program, toTextEdits(edits)),
    }));
  }

  /** One action a rule and line. */
  private silencings(program: Program, findings: readonly Finding[]): CodeAction[] {
    const done = new Set<string>();
    const actions: CodeAction[] = [];
    for (const finding of findings) {
      const key = `${finding.rule} ${finding.line}`;
      if (done.has(key)) continue;
      done.add(key);
      const remark = ignoreRemark(program.analysis, finding, program.configuration.profile, program.lineEnd);
      actions.push({
        title: `Ignore ${finding.rule} in this block`,
        kind: CodeActionKind.QuickFix,
        diagnostics: [toDiagnostic(finding, 0, this.rulePage)],
        edit: this.edit(program, [TextEdit.insert(toRange(remark).start, remark.text)]),
      });
    }
    return actions;
  }

  private edit(program: Program, edits: TextEdit[]): WorkspaceEdit {
    if (!this.versionsEdits) return { changes: { [program.uri]: edits } };
    return { documentChanges: [TextDocumentEdit.create({ uri: program.uri, version: program.version }, edits)] };
  }
}

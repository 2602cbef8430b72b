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
import { isRepairedBySearch } from '../core/checks/repair/alike.ts';
import { findingsBetween, ignoreRemark } from '../core/features/fixes.ts';
import { alikeIn } from './arcRepairs.ts';
import { blockActionsAt } from './blockActions.ts';
import type { ClientAbilities } from './capabilities.ts';
import { toDiagnostic, toRange, toTextEdits } from './convert.ts';
import type { Program } from './programs.ts';

/** The light bulb is looked for at every move of the cursor: where more findings are alike, only the list repairs them all. */
const MOST_FOR_THE_BULB = 100;

/** Makes the actions for one program. */
export class CodeActions {
  private readonly versionsEdits: boolean;
  private readonly hasBlockForm: boolean;
  private readonly listsArcRepairs: boolean;
  private readonly rulePage: ((code: string) => string) | undefined;

  /**
   * `versionsEdits`: the client takes edits that name the version of the text they were made for; `hasBlockForm`: it has the
   * form for blocks; `listsArcRepairs`: it has the list of an arc's repairs.
   */
  constructor(
    client: Pick<ClientAbilities, 'versionsEdits' | 'hasBlockForm' | 'listsArcRepairs'>,
    rulePage: ((code: string) => string) | undefined,
  ) {
    this.versionsEdits = client.versionsEdits;
    this.hasBlockForm = client.hasBlockForm;
    this.listsArcRepairs = client.listsArcRepairs;
    this.rulePage = rulePage;
  }

  /**
   * The actions for a range of an up-to-date program: first all repairs, then what can be done with blocks, then the remarks that
   * silence. `isAsked`: somebody asked for them, and not only the light bulb at a move of the cursor.
   */
  at(program: Program, range: Range, isAsked: boolean): CodeAction[] {
    const all = program.analysis.findings().findings;
    const findings = findingsBetween(all, range.start.line, range.start.character, range.end.line, range.end.character);
    return [
      ...findings.flatMap((finding) => this.repairs(program, finding)),
      ...findings.flatMap((finding) => this.repairsOfAll(program, finding, all)),
      ...this.repairList(program, findings),
      ...this.blocks(program, range, findings, isAsked),
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

  /** The list that draws each repair of a wrong arc. */
  private repairList(program: Program, findings: readonly Finding[]): CodeAction[] {
    const finding = findings.find(({ rule, fixes }) => isRepairedBySearch(rule) && fixes.length > 0);
    if (!this.listsArcRepairs || finding === undefined) return [];
    const title = 'Repair arc… (look at each in the path view)';
    const place = { uri: program.uri, line: finding.line };
    return [
      {
        title,
        kind: CodeActionKind.QuickFix,
        diagnostics: [toDiagnostic(finding, 0, this.rulePage)],
        command: { title, command: 'blockwright.repairArc', arguments: [place] },
      },
    ];
  }

  private blocks(program: Program, range: Range, findings: readonly Finding[], isAsked: boolean): CodeAction[] {
    const client = { hasForm: this.hasBlockForm, isAsked };
    return blockActionsAt(program, range, findings, client).map(({ action, edits, repairs }) => ({
      ...action,
      ...(repairs === undefined ? {} : { diagnostics: [toDiagnostic(repairs, 0, this.rulePage)] }),
      ...(edits === undefined ? {} : { edit: this.edit(program, edits) }),
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

/** From the core's plain values to the protocol's types. The core counts lines and UTF-16 columns from 0, as the protocol does. */
import {
  type Diagnostic,
  DiagnosticSeverity,
  DocumentSymbol,
  FoldingRange,
  FoldingRangeKind,
  Range,
  SymbolInformation,
  SymbolKind,
  TextEdit,
} from 'vscode-languageserver';
import type { Finding } from '../core/checks/findings.ts';
import type { Severity } from '../core/checks/rule.ts';
import type { Folding } from '../core/features/folding.ts';
import type { OutlineItem } from '../core/features/outline.ts';
import type { ConfigurationProblem } from '../core/machine/configurationText.ts';

const SEVERITIES: Readonly<Record<Severity, DiagnosticSeverity>> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  hint: DiagnosticSeverity.Hint,
};

/** A place of the core: lines and columns from 0, the end exclusive. */
interface Span {
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
}

/** The range of a place. */
export const toRange = (span: Span): Range => Range.create(span.line, span.column, span.endLine, span.endColumn);

/** The edits of a fix. */
export const toTextEdits = (edits: readonly (Span & { readonly text: string })[]): TextEdit[] =>
  edits.map((edit) => TextEdit.replace(toRange(edit), edit.text));

/**
 * A finding as a diagnostic. `more` is how many findings of the same rule are held back behind this one;
 * `rulePage` gives the address of the rule's page.
 */
export function toDiagnostic(
  finding: Finding,
  more: number,
  rulePage: ((code: string) => string) | undefined,
): Diagnostic {
  const diagnostic: Diagnostic = {
    range: toRange(finding),
    severity: SEVERITIES[finding.severity],
    code: finding.rule,
    source: 'blockwright',
    message: more > 0 ? `${finding.message} (And ${more} more of this kind behind it.)` : finding.message,
  };
  if (rulePage) diagnostic.codeDescription = { href: rulePage(finding.rule) };
  if (more > 0) diagnostic.data = { more };
  return diagnostic;
}

const SYMBOL_KINDS: Readonly<Record<OutlineItem['kind'], SymbolKind>> = {
  program: SymbolKind.Module,
  tool: SymbolKind.Class,
  operation: SymbolKind.Function,
  block: SymbolKind.Struct,
  loop: SymbolKind.Array,
  call: SymbolKind.Event,
};

/** An outline item with everything under it. `lineLength` gives the length of a line. */
export function toDocumentSymbol(item: OutlineItem, lineLength: (line: number) => number): DocumentSymbol {
  const range = Range.create(item.line, 0, item.endLine, lineLength(item.endLine));
  const name = Range.create(item.line, item.column, item.line, item.endColumn);
  const children = item.children.map((child) => toDocumentSymbol(child, lineLength));
  return DocumentSymbol.create(item.name, item.detail, SYMBOL_KINDS[item.kind], range, name, children);
}

/** A folding by whole lines. */
export const toFoldingRange = (folding: Folding): FoldingRange =>
  FoldingRange.create(
    folding.line,
    folding.endLine,
    undefined,
    undefined,
    folding.kind === 'remark' ? FoldingRangeKind.Comment : FoldingRangeKind.Region,
  );

/** The items with everything under them as one flat list, for clients that cannot nest. */
export const flatSymbols = (items: readonly DocumentSymbol[], uri: string, within?: string): SymbolInformation[] =>
  items.flatMap((item) => [
    SymbolInformation.create(item.name, item.kind, item.range, uri, within),
    ...flatSymbols(item.children ?? [], uri, item.name),
  ]);

/** What is wrong in a shop's file. */
export const toProblemDiagnostic = (problem: ConfigurationProblem): Diagnostic => ({
  range: toRange(problem),
  severity: DiagnosticSeverity.Error,
  source: 'blockwright',
  message: problem.message,
});

/** From what segments keep to findings a person reads: words, severity in force, silenced and counted. */
import type { RuleSetting } from '../machine/configuration.ts';
import type { ControlProfile } from '../machine/profile.ts';
import type { Fix, MessageData, Severity } from './rule.ts';
import { RULES } from './rules.ts';

/** Most findings a rule and program that are told. */
export const MOST_FINDINGS = 1000;

/** An exact change of text; lines and columns from 0, UTF-16, end exclusive. */
export interface FindingEdit {
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
  readonly text: string;
}

/** A finding with its words. Lines and columns from 0, UTF-16, end exclusive. */
export interface Finding {
  readonly rule: string;
  readonly severity: Severity;
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
  readonly message: string;
  readonly fixes: readonly { readonly title: string; readonly safe: boolean; readonly edits: readonly FindingEdit[] }[];
}

/** Findings of a program, and by rule how many more there are than are told. */
export interface Findings {
  readonly findings: readonly Finding[];
  readonly more: Readonly<Record<string, number>>;
}

const print = (value: string | number): string => {
  if (typeof value === 'string') return value;
  if (!Number.isFinite(value)) return 'unknown';
  return String(Math.round(value * 1e4) / 1e4 + 0);
};

/** Puts the values into a message's placeholders. */
export const wordMessage = (rule: number, message: string, data: MessageData): string => {
  const text = RULES[rule].messages[message] ?? message;
  return text.replace(/\{(\w+)\}/g, (whole, name: string) => (name in data ? print(data[name]) : whole));
};

/** Severity of a rule's message, `off` where it is silenced. */
export const severityOf = (
  rule: number,
  message: string,
  profile: ControlProfile,
  settings: Readonly<Record<string, RuleSetting>>,
): RuleSetting => {
  const declared = RULES[rule];
  const setting = settings[declared.code];
  if (setting !== undefined) return setting;
  const own = declared.severities?.[message];
  if (own !== undefined) return own;
  if (profile.groupConflict === 'error' && declared.strictSeverity !== undefined) return declared.strictSeverity;
  return declared.severity;
};

/** Fixes with the lines of the program. */
export const placeFixes = (fixes: readonly Fix[], line: number): Finding['fixes'] =>
  fixes.map(({ title, safe, edits }) => ({
    title,
    safe,
    edits: edits.map((edit) => ({
      line: line + edit.lineOffset,
      column: edit.column,
      endLine: line + edit.lineOffset + (edit.wholeLine ? 1 : 0),
      endColumn: edit.wholeLine ? 0 : edit.endColumn,
      text: edit.text,
    })),
  }));

/**
 * A finding whose repairs, beside its own, are searched for whenever somebody looks at them. `fixes` is none of the object's
 * own properties, so that who copies or compares findings starts no search.
 */
class SearchedFinding implements Finding {
  readonly rule: string;
  readonly severity: Severity;
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
  readonly message: string;
  readonly #own: Finding['fixes'];
  readonly #search: () => Finding['fixes'];

  constructor(finding: Finding, search: () => Finding['fixes']) {
    this.rule = finding.rule;
    this.severity = finding.severity;
    this.line = finding.line;
    this.column = finding.column;
    this.endLine = finding.endLine;
    this.endColumn = finding.endColumn;
    this.message = finding.message;
    this.#own = finding.fixes;
    this.#search = search;
  }

  get fixes(): Finding['fixes'] {
    return [...this.#own, ...this.#search()];
  }
}

/** A finding whose repairs are searched for when somebody looks at them. */
export const withSearchedFixes = (finding: Finding, search: () => Finding['fixes']): Finding =>
  new SearchedFinding(finding, search);

/** Order of findings: by place, then by rule. */
export const compareFindings = (a: Finding, b: Finding): number =>
  a.line - b.line || a.column - b.column || (a.rule < b.rule ? -1 : a.rule > b.rule ? 1 : 0);

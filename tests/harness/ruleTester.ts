/**
 * Tests of a rule as data: programs on which it must keep quiet, and programs on which it must report, with the place
 * marked by `^^^` in the line below, the message, and the whole program after each repair.
 */
import { describe, expect, it } from 'vitest';
import { Analysis } from '../../server/src/core/checks/analysis.ts';
import type { Finding } from '../../server/src/core/checks/findings.ts';
import { RULES } from '../../server/src/core/checks/rules.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../../server/src/core/machine/configuration.ts';
import { PROFILES } from '../../server/src/core/machine/profile.ts';
import { applyEdits } from './applyFix.ts';
import { readMarks } from './marks.ts';
import { readRulePage } from './rulePages.ts';

/** What a program is run under. */
interface Circumstances {
  /** Preset; `iso` where it is left out. */
  readonly profile?: keyof typeof PROFILES;
  readonly configuration?: Partial<Configuration>;
}

/** A program on which the rule says nothing. */
interface QuietCase extends Circumstances {
  readonly program: string;
}

/** What one finding must be. */
interface ExpectedFinding {
  /** Id of the message in the rule's declaration. */
  readonly message: string;
  /** What the text must contain. */
  readonly says?: readonly string[];
  /** The rule's own where left out. */
  readonly severity?: Finding['severity'];
  /** The program after each offered repair, with its title; every repair must be stated. */
  readonly fixes?: readonly { readonly title: string; readonly safe?: boolean; readonly output: string }[];
}

/** A program on which the rule reports at its marks, in order. */
interface ReportCase extends Circumstances {
  readonly program: string;
  readonly findings: readonly ExpectedFinding[];
}

const configurationOf = ({ profile, configuration }: Circumstances): Configuration => ({
  ...DEFAULT_CONFIGURATION,
  ...(profile === undefined ? {} : { profile: PROFILES[profile] }),
  ...configuration,
});

/** All findings of a program. */
export const findingsOf = (
  program: string,
  configuration: Configuration = DEFAULT_CONFIGURATION,
): readonly Finding[] => {
  const analysis = new Analysis(program, configuration);
  analysis.run();
  return analysis.findings().findings;
};

/** A message's template as a pattern for the text that comes of it. */
const patternOf = (template: string): RegExp => {
  const parts = template.split(/\{\w+\}/).map((part) => part.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'));
  return new RegExp(`^${parts.join('[^{}]+')}$`, 's');
};

const nameOf = (program: string): string =>
  program
    .trim()
    .replace(/\s*\n\s*/g, ' | ')
    .slice(0, 90);

/** Programs near a rule's edge that it must leave in peace, at least. */
const LEAST_QUIET = 3;

/** All cases of a rule. */
interface RuleCases {
  readonly quiet: readonly QuietCase[];
  readonly reports: readonly ReportCase[];
  /** Messages that the core never raises by itself; the case says beside it who does. */
  readonly raisedElsewhere?: readonly string[];
}

/** Runs the cases of one rule as tests. */
export const testRule = (code: string, cases: RuleCases): void => {
  const rule = RULES.find((candidate) => candidate.code === code);
  if (rule === undefined) throw new Error(`No rule has the code ${code}.`);
  describe(code, () => {
    it('is tested both ways and with no case twice', () => {
      expect(cases.quiet.length, 'programs on which it keeps quiet').toBeGreaterThanOrEqual(LEAST_QUIET);
      expect(cases.reports.length, 'programs on which it reports').toBeGreaterThan(0);
      const keys = [...cases.quiet, ...cases.reports].map(({ program, profile, configuration }) =>
        JSON.stringify([program, profile, configuration]),
      );
      expect(keys.filter((key, place) => keys.indexOf(key) !== place)).toEqual([]);
      const stated = cases.reports.flatMap(({ findings }) => findings.map(({ message }) => message));
      const used = new Set([...stated, ...(cases.raisedElsewhere ?? [])]);
      expect(
        Object.keys(rule.messages).filter((id) => !used.has(id)),
        'messages without a case',
      ).toEqual([]);
    });
    it('has a page that says whether the light bulb offers a repair', () => {
      const offers = cases.reports.some(({ findings }) => findings.some(({ fixes = [] }) => fixes.length > 0));
      expect(!readRulePage(code).repair.startsWith('None is offered: ')).toBe(offers);
    });
    for (const quiet of cases.quiet) it(`keeps quiet: ${nameOf(quiet.program)}`, () => checkQuiet(code, quiet));
    for (const report of cases.reports) it(`reports: ${nameOf(report.program)}`, () => checkReports(code, report));
  });
};

const checkQuiet = (code: string, quiet: QuietCase): void => {
  const { program, marks } = readMarks(quiet.program);
  expect(marks, 'a quiet program has no marks').toEqual([]);
  const findings = findingsOf(program, configurationOf(quiet));
  expect(findings.filter((finding) => finding.rule === code).map(({ message }) => message)).toEqual([]);
};

const checkReports = (code: string, report: ReportCase): void => {
  const { program, marks } = readMarks(report.program);
  const configuration = configurationOf(report);
  const all = findingsOf(program, configuration);
  const findings = all.filter((finding) => finding.rule === code);
  expect(
    findings.map(({ line, column, endColumn }) => ({ line, column, endColumn })),
    `places of: ${findings.map(({ message }) => message).join(' / ')}`,
  ).toEqual(marks);
  expect(report.findings.length).toBe(findings.length);
  findings.forEach((finding, place) => {
    checkFinding(finding, report.findings[place]);
    checkFixes(program, finding, report.findings[place], configuration, all);
  });
};

const checkFinding = (finding: Finding, expected: ExpectedFinding): void => {
  const rule = RULES.find((candidate) => candidate.code === finding.rule);
  const template = rule?.messages[expected.message];
  expect(template, `message ${expected.message}`).toBeDefined();
  expect(finding.message).toMatch(patternOf(template ?? ''));
  expect(finding.message, 'placeholders without a value').not.toMatch(/[{}]|undefined|NaN/);
  for (const part of expected.says ?? []) expect(finding.message).toContain(part);
  expect(finding.severity).toBe(expected.severity ?? rule?.severities?.[expected.message] ?? rule?.severity);
};

const checkFixes = (
  program: string,
  finding: Finding,
  expected: ExpectedFinding,
  configuration: Configuration,
  before: readonly Finding[],
): void => {
  const outputs = finding.fixes.map(({ title, safe, edits }) => ({ title, safe, output: applyEdits(program, edits) }));
  const stated = (expected.fixes ?? []).map(({ title, safe, output }) => ({ title, safe: safe ?? false, output }));
  expect(outputs).toEqual(stated);
  for (const { output, title } of outputs) {
    const after = findingsOf(output, configuration);
    const isSame = (other: Finding) => other.rule === finding.rule && other.line === finding.line;
    expect(after.filter(isSame).length, `"${title}" leaves the finding`).toBeLessThan(before.filter(isSame).length);
    expect(newErrors(before, after), `"${title}" leaves a new error`).toEqual([]);
  }
};

/** Rules that report errors after a repair and did not before. */
const newErrors = (before: readonly Finding[], after: readonly Finding[]): string[] => {
  const errors = (findings: readonly Finding[]) =>
    findings.filter(({ severity }) => severity === 'error').map(({ rule }) => rule);
  const old = errors(before);
  return errors(after).filter((rule) => !old.includes(rule));
};

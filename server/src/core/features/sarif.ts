/** Findings as SARIF 2.1.0, the OASIS standard for what checks report, for build servers and other editors. */
import type { Finding } from '../checks/analysis.ts';
import type { Rule, Severity } from '../checks/rule.ts';

/** The findings of one program. */
export interface FileFindings {
  /** Address of the file: relative with `/`, or absolute with its scheme; percent-encoded. */
  readonly uri: string;
  readonly findings: readonly Finding[];
  /** How many findings were left out because a rule has more than are kept. */
  readonly more: number;
}

/** What the log says of the program that made it. */
export interface SarifTool {
  readonly version: string;
  readonly rules: readonly Rule[];
}

const LEVELS: Readonly<Record<Severity, string>> = { error: 'error', warning: 'warning', hint: 'note' };

/** The whole log as a plain value, to be written as JSON. */
export function sarifLog(files: readonly FileFindings[], tool: SarifTool): object {
  const rules = new Map(tool.rules.map((rule, index) => [rule.code, index]));
  return {
    $schema: 'https://json.schemastore.org/sarif-2.1.0.json',
    version: '2.1.0',
    runs: [
      {
        tool: { driver: { name: 'Blockwright', semanticVersion: tool.version, rules: tool.rules.map(descriptor) } },
        columnKind: 'utf16CodeUnits',
        artifacts: files.map(({ uri }) => ({ location: { uri } })),
        invocations: [{ executionSuccessful: true, toolExecutionNotifications: files.flatMap(leftOut) }],
        results: files.flatMap((file, index) => file.findings.map((one) => result(file.uri, index, one, rules))),
      },
    ],
  };
}

const descriptor = (rule: Rule) => ({
  id: rule.code,
  shortDescription: { text: rule.reason },
  defaultConfiguration: { level: LEVELS[rule.severity] },
});

function leftOut({ uri, more }: FileFindings, index: number): object[] {
  if (more === 0) return [];
  const message = { text: `${more} more findings of rules that have found over 1,000 are not listed.` };
  return [{ level: 'note', message, locations: [{ physicalLocation: { artifactLocation: { uri, index } } }] }];
}

function result(uri: string, index: number, finding: Finding, rules: ReadonlyMap<string, number>): object {
  const artifactLocation = { uri, index };
  return {
    ruleId: finding.rule,
    ...(rules.has(finding.rule) ? { ruleIndex: rules.get(finding.rule) } : {}),
    level: LEVELS[finding.severity],
    message: { text: finding.message },
    locations: [{ physicalLocation: { artifactLocation, region: region(finding) } }],
    ...(finding.fixes.length === 0 ? {} : { fixes: finding.fixes.map((one) => fix(artifactLocation, one)) }),
  };
}

const fix = (artifactLocation: object, { title, edits }: Finding['fixes'][number]) => ({
  description: { text: title },
  artifactChanges: [
    {
      artifactLocation,
      replacements: edits.map((edit) => ({ deletedRegion: region(edit), insertedContent: { text: edit.text } })),
    },
  ],
});

type Range = Pick<Finding, 'line' | 'column' | 'endLine' | 'endColumn'>;

/** Lines and columns from 1, the end column exclusive (SARIF 2.1.0, 3.30). */
const region = ({ line, column, endLine, endColumn }: Range) => ({
  startLine: line + 1,
  startColumn: column + 1,
  endLine: endLine + 1,
  endColumn: endColumn + 1,
});

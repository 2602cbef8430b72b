/** What the rules found in a whole run, put in words and in order. */
import type { Configuration } from '../machine/configuration.ts';
import { FactKind } from './facts.ts';
import {
  compareFindings,
  type Finding,
  type Findings,
  MOST_FINDINGS,
  placeFixes,
  severityOf,
  withSearchedFixes,
  wordMessage,
} from './findings.ts';
import { readIgnores } from './ignores.ts';
import type { GatheredFacts } from './programFacts.ts';
import { RepeatedFindings } from './repeatedFindings.ts';
import type { Severity } from './rule.ts';
import { RULES } from './rules.ts';
import type { ChunkPassage, RunChunk } from './runChunk.ts';
import type { SegmentFinding } from './segment.ts';

/** A run that is up to date. */
export interface RunFindingsInput {
  readonly configuration: Configuration;
  /** All segments in the order of the run, then those of lines that are never reached. */
  readonly passages: readonly ChunkPassage[];
  readonly facts: GatheredFacts;
  /** True where the program jumps, loops or calls: lines may be passed more than once. */
  readonly inFlow: boolean;
  /** What took its time to find, at lines of the program. */
  readonly found: readonly SegmentFinding[];
  readonly lineCount: number;
  lineText(line: number): string;
  /** The repairs of a wrong arc that a rule spoke of, searched for when somebody looks at them. */
  repairs(line: number, rule: string): Finding['fixes'];
}

/** Takes a finding of a rule's message at a line, unless it is silenced; it is worded only if it is told. */
type Take = (rule: number, message: string, line: number, make: (severity: Severity) => Finding) => void;

/** Gathers the findings of one run. */
export class FindingsOfRun {
  private readonly input: RunFindingsInput;
  private readonly isSubprogramFile: boolean;

  constructor(input: RunFindingsInput) {
    this.input = input;
    this.isSubprogramFile = input.facts.isSubprogramFile;
  }

  /** All of them in order, at most 1,000 a rule. */
  all(): Findings {
    const { configuration, facts, found: kept } = this.input;
    const ignored = readIgnores(
      facts.of(FactKind.ignore),
      (line) => isBlank(this.input.lineText(line)),
      this.input.lineCount,
    );
    const counts = new Map<string, number>();
    const more: Record<string, number> = {};
    const found: Finding[] = [];
    const take: Take = (rule, message, line, make) => {
      const { code } = RULES[rule];
      const severity = severityOf(rule, message, configuration.profile, configuration.rules);
      if (severity === 'off' || ignored(code, line)) return;
      const count = (counts.get(code) ?? 0) + 1;
      counts.set(code, count);
      if (count <= MOST_FINDINGS) found.push(make(severity));
      else more[code] = count - MOST_FINDINGS;
    };
    this.takeOfSegments(take);
    this.takeOfProgram(take);
    for (const own of kept) {
      if (this.isQuiet(own.rule)) continue;
      take(own.rule, own.message, own.line, (severity) => this.word(own, own.line, severity));
    }
    found.sort(compareFindings);
    return { findings: found, more };
  }

  /** True for a rule that has nothing to say on a subprogram's file. */
  private isQuiet(rule: number): boolean {
    return this.isSubprogramFile && RULES[rule].silentInSubprograms === true;
  }

  private takeOfSegments(take: Take): void {
    const { passages, inFlow } = this.input;
    const repeated = new RepeatedFindings();
    for (const { chunk, segment, firstLine } of passages) {
      for (const own of segment.findings) {
        if (this.isQuiet(own.rule)) continue;
        const line = firstLine + own.line;
        if (inFlow && repeated.has(own, line)) continue;
        take(own.rule, own.message, line, (severity) => this.render(chunk, own, line, severity, segment.pass > 1));
      }
    }
  }

  private takeOfProgram(take: Take): void {
    RULES.forEach((rule, index) => {
      if (rule.program === undefined || this.isQuiet(index)) return;
      rule.program(this.input.facts, (message, line, column, endColumn, data = {}, fixes = []) => {
        const own = { rule: index, message, line, column, endColumn, data, fixes };
        take(index, message, line, (severity) => this.word(own, line, severity));
      });
    });
  }

  private render(chunk: RunChunk, own: SegmentFinding, line: number, severity: Severity, later: boolean): Finding {
    chunk.rendered ??= new WeakMap();
    const known = chunk.rendered.get(own);
    if (known !== undefined && known.line === line) return known;
    const isLater = later && own.origin === undefined;
    const finding = this.word(own, line, severity, isLater ? ' It comes in a later pass.' : '');
    chunk.rendered.set(own, finding);
    return finding;
  }

  /** A finding in words; repairs that have to be searched for are searched for when somebody looks at them. */
  private word(own: SegmentFinding, line: number, severity: Severity, more = ''): Finding {
    const finding = wordFinding(own, line, severity, more);
    if (!RULES[own.rule].repairedBySearch || own.origin !== undefined) return finding;
    const { repairs } = this.input;
    return withSearchedFixes(finding, () => repairs(line, finding.rule));
  }
}

/** Says that a finding is in the file of a called program. */
const originText = ({ origin }: SegmentFinding): string =>
  origin === undefined ? '' : `In O${origin.program}, line ${origin.line + 1}: `;

/** A finding in words, at its line of the program. */
const wordFinding = (own: SegmentFinding, line: number, severity: Severity, more: string): Finding => ({
  rule: RULES[own.rule].code,
  severity,
  line,
  column: own.column,
  endLine: line,
  endColumn: own.endColumn,
  message: `${originText(own)}${wordMessage(own.rule, own.message, own.data)}${more}`,
  fixes: placeFixes(own.fixes, line),
});

/** True for a line without a block: empty, or a remark alone. */
const isBlank = (text: string): boolean => /^\s*(\/\/.*|(\([^)]*\)\s*)*(;.*)?)$/.test(text);

import { describe, expect, test } from 'vitest';
import { Analysis } from '../checks/analysis.ts';
import { DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { type ControlProfile, DEFAULT_PROFILE } from '../machine/profile.ts';
import { findingsBetween, ignoreRemark } from './fixes.ts';

const RULE = 'arc-centre-off-plane';

function analysed(text: string, profile: ControlProfile = DEFAULT_PROFILE): Analysis {
  const analysis = new Analysis(text, { ...DEFAULT_CONFIGURATION, profile });
  analysis.run();
  return analysis;
}

describe('the remark that silences', () => {
  const wrongArc = 'G3 X10. Y10. I0. K10. F100';
  /** The program with the first finding of the rule silenced. */
  function silenced(text: string, profile: ControlProfile = DEFAULT_PROFILE): string {
    const analysis = analysed(text, profile);
    const finding = analysis.findings().findings.find((one) => one.rule === RULE)!;
    const { line, column, text: inserted } = ignoreRemark(analysis, finding, profile, '\n');
    const lines = text.split('\n');
    lines[line] = lines[line].slice(0, column) + inserted + lines[line].slice(column);
    return lines.join('\n');
  }

  test.each([
    ['behind the block', wrongArc, `${wrongArc} ( blockwright-ignore ${RULE} )`],
    ['before a block that ends in a remark', `${wrongArc} ; A`, `( blockwright-ignore ${RULE} )\n${wrongArc} ; A`],
    ['before an unclosed remark', `${wrongArc} (A`, `( blockwright-ignore ${RULE} )\n${wrongArc} (A`],
    ['behind a closed remark', `${wrongArc} (A)`, `${wrongArc} (A) ( blockwright-ignore ${RULE} )`],
  ])('%s', (_name, block, expected) => {
    const text = `G21 G90 G17\nG0 X0. Y0.\n${block}\nM30`;
    const after = silenced(text);
    expect(after).toBe(`G21 G90 G17\nG0 X0. Y0.\n${expected}\nM30`);
    expect(
      analysed(after)
        .findings()
        .findings.map((finding) => finding.rule),
    ).not.toContain(RULE);
  });

  test('before a block that would become too long for the control', () => {
    const profile = { ...DEFAULT_PROFILE, lineLength: 40 };
    expect(silenced(`G0 X0. Y0.\n${wrongArc}`, profile)).toContain(`( blockwright-ignore ${RULE} )\n${wrongArc}`);
  });

  test('with a semicolon for a control without brackets', () => {
    const profile = { ...DEFAULT_PROFILE, remarks: { brackets: false, semicolon: true, slashes: false } };
    const after = silenced(`G0 X0. Y0.\n${wrongArc}`, profile);
    expect(after).toContain(`${wrongArc} ; blockwright-ignore ${RULE}`);
    expect(
      analysed(after, profile)
        .findings()
        .findings.map((finding) => finding.rule),
    ).not.toContain(RULE);
  });
});

test('findings at a place are those that touch it, ends included', () => {
  const finding = (line: number, column: number, endColumn: number) => ({
    rule: RULE,
    severity: 'error' as const,
    line,
    column,
    endLine: line,
    endColumn,
    message: '',
    fixes: [],
  });
  const findings = [finding(1, 2, 5), finding(1, 7, 9), finding(2, 0, 3)];
  expect(findingsBetween(findings, 1, 5, 1, 6)).toEqual([findings[0]]);
  expect(findingsBetween(findings, 1, 6, 1, 6)).toEqual([]);
  expect(findingsBetween(findings, 1, 3, 2, 0)).toEqual(findings);
});

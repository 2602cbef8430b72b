/** The README's table of rules, made from their declarations. */
import { readFileSync } from 'node:fs';
import { RULES } from '../../server/src/core/checks/rules.ts';
import { RULES_FOLDER } from '../harness/rulePages.ts';

const BEGIN = '<!-- rules -->';
const END = '<!-- /rules -->';

const titleOf = (code: string): string => {
  const heading = readFileSync(new URL(`${code}.md`, RULES_FOLDER), 'utf8').split('\n')[0];
  return heading.replace(/^# /, '');
};

const rulesTable = (): string => {
  const rows = RULES.map(({ code, severity, strictSeverity, reason }) => {
    const weight = strictSeverity === undefined ? severity : `${severity} (${strictSeverity} in \`rs274ngc\`)`;
    return `| [\`${code}\`](server/src/core/checks/rules/${code}.md) | ${titleOf(code)} | ${weight} | ${reason} |`;
  });
  return ['| Rule | What | Weight | Why it hurts |', '| --- | --- | --- | --- |', ...rows].join('\n');
};

/** The README with its table brought up to date. Throws where the markers are missing. */
export const withRulesTable = (readme: string): string => {
  const begin = readme.indexOf(BEGIN);
  const end = readme.indexOf(END);
  if (begin < 0 || end < begin) throw new Error(`README.md has no ${BEGIN} … ${END}.`);
  return `${readme.slice(0, begin + BEGIN.length)}\n${rulesTable()}\n${readme.slice(end)}`;
};

/**
 * Holds the rules together: code, page, test, README and the manifest's setting.
 * `UPDATE_GOLDEN=1` writes the README's table anew.
 */
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../server/src/core/checks/rules.ts';
import { RULE_CODES } from '../../server/src/core/machine/ruleCodes.ts';
import { RULES_FOLDER, readRulePage } from '../harness/rulePages.ts';
import { findingsOf } from '../harness/ruleTester.ts';
import { withRulesTable } from './rulesTable.ts';

const TOP = new URL('../../', import.meta.url);

describe('every rule', () => {
  it('is registered once, under the name of its file, with a page and a test', () => {
    const files = readdirSync(RULES_FOLDER).sort();
    const expected = RULES.flatMap(({ code }) => [`${code}.md`, `${code}.test.ts`, `${code}.ts`]).sort();
    expect(files).toEqual(expected);
  });

  it('has a code that the shop’s file takes', () => {
    expect(RULES.map(({ code }) => code).filter((code) => !RULE_CODES.includes(code))).toEqual([]);
  });

  it.each(RULES)('$code says why in one sentence and has messages of two at most', ({ reason, messages }) => {
    expect(sentences(reason)).toBe(1);
    for (const message of Object.values(messages)) {
      expect(sentences(message), message).toBeLessThanOrEqual(2);
      expect(message).toMatch(/\.$/);
    }
  });

  it.each(RULES)('$code’s page names its code and how to silence it', ({ code }) => {
    const { text } = readRulePage(code);
    expect(text).toContain(`\n\`${code}\`\n`);
    for (const part of ['## Why it hurts', '## How to silence', `( blockwright-ignore ${code} )`]) {
      expect(text).toContain(part);
    }
    expect(text).toContain('`blockwright.json`');
    expect(text).toContain('`blockwright.rules`');
  });

  it.each(RULES)('$code’s page says what repair there is, and its cases are run by the rule tester', ({ code }) => {
    expect(readRulePage(code).repair).toMatch(/\.$/);
    // The tester asks for three quiet programs near the edge, a case for each message, and a true statement on repairs.
    const test = readFileSync(new URL(`${code}.test.ts`, RULES_FOLDER), 'utf8');
    expect(test).toContain(`testRule('${code}', {`);
  });

  it.each(RULES)('$code’s example triggers it, and its right example is right', ({ code }) => {
    const { triggering, right, configuration } = readRulePage(code);
    expect(findingsOf(triggering, configuration).map(({ rule }) => rule)).toContain(code);
    const rest = findingsOf(right, configuration).filter(({ rule, severity }) => severity !== 'hint' || rule === code);
    expect(rest.map(({ rule, line, message }) => `${line + 1} ${rule}: ${message}`)).toEqual([]);
  });

  it.each(RULES)('$code keeps quiet under its remark', ({ code }) => {
    const { triggering, configuration } = readRulePage(code);
    const silenced = `( blockwright-ignore-begin ${code} )\n${triggering}`;
    expect(findingsOf(silenced, configuration).filter(({ rule }) => rule === code)).toEqual([]);
  });

  it.each(RULES)('$code follows the shop’s severities', ({ code }) => {
    const { triggering, configuration } = readRulePage(code);
    const under = (setting: 'off' | 'hint') =>
      findingsOf(triggering, { ...configuration, rules: { [code]: setting } }).filter(({ rule }) => rule === code);
    expect(under('off')).toEqual([]);
    expect(new Set(under('hint').map(({ severity }) => severity))).toEqual(new Set(['hint']));
  });
});

describe('the rules outside the code', () => {
  it('stand in the README’s table', () => {
    const path = new URL('README.md', TOP);
    const readme = readFileSync(path, 'utf8');
    const right = withRulesTable(readme);
    if (process.env.UPDATE_GOLDEN === '1' && right !== readme) writeFileSync(path, right);
    else expect(readme === right, 'README’s table is old: run with UPDATE_GOLDEN=1').toBe(true);
  });

  it('may be set in the manifest', () => {
    const manifest = JSON.parse(readFileSync(new URL('package.json', TOP), 'utf8'));
    const setting = manifest.contributes.configuration.properties['blockwright.rules'];
    expect(setting.type).toBe('object');
    const named = Object.keys(setting.properties ?? {});
    // Codes that the manifest names for completion must be rules; others are taken by `additionalProperties`.
    expect(named.filter((code) => !RULE_CODES.includes(code))).toEqual([]);
    const values = setting.additionalProperties?.enum ?? [];
    for (const value of ['error', 'warning', 'hint', 'off']) expect(values).toContain(value);
  });

  it('have pages where the bundler looks for them', () => {
    for (const { code } of RULES) expect(existsSync(new URL(`${code}.md`, RULES_FOLDER)), code).toBe(true);
  });
});

/** Sentences of a text; a point inside a number or a code does not end one. */
const sentences = (text: string): number => text.split(/[.?!](?=\s|$)/).filter((part) => part.trim() !== '').length;

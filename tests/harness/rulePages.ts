/** The rules' pages, read for tests: their examples and the shop's file that these run under. */
import { readFileSync } from 'node:fs';
import { type Configuration, DEFAULT_CONFIGURATION } from '../../server/src/core/machine/configuration.ts';
import { readConfigurationFile } from '../../server/src/core/machine/configurationFile.ts';

/** Folder of the rules, their pages and their tests. */
export const RULES_FOLDER = new URL('../../server/src/core/checks/rules/', import.meta.url);

/** What a test needs of a page. */
interface RulePage {
  readonly text: string;
  readonly triggering: string;
  readonly right: string;
  /** What the page says of repairs; empty where it says nothing. */
  readonly repair: string;
  readonly configuration: Configuration;
}

/** Reads the page of a rule. Throws where a section is missing or its shop's file is wrong. */
export const readRulePage = (code: string): RulePage => {
  const text = readFileSync(new URL(`${code}.md`, RULES_FOLDER), 'utf8');
  const example = (heading: string): string => {
    const section = text.split(`## ${heading}\n`)[1]?.split('\n## ')[0];
    const program = /```cnc-program\n([\s\S]*?)```/.exec(section ?? '')?.[1];
    if (program === undefined) throw new Error(`The page of ${code} has no "${heading}".`);
    return program;
  };
  return {
    text,
    triggering: example('Example that triggers'),
    right: example('Example that is right'),
    repair: (text.split('\n## Repair\n')[1] ?? '').split('\n## ')[0].trim(),
    configuration: configurationOf(code, text),
  };
};

const configurationOf = (code: string, text: string): Configuration => {
  const file = /```json\n([\s\S]*?)```/.exec(text)?.[1];
  if (file === undefined) return DEFAULT_CONFIGURATION;
  const { shop, problems } = readConfigurationFile(file);
  if (shop === undefined) throw new Error(`The page of ${code}: ${problems[0]?.message}`);
  return shop.common;
};

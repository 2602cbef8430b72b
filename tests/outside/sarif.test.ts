// SARIF output against the schema that OASIS publishes for 2.1.0 (as shipped by the package @microsoft/jest-sarif, MIT),
// judged by ajv. The schema is written for draft 4 of JSON schema; ajv 8 reads it as draft 7, which differs for this schema
// only in the keyword that names it.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import Ajv from 'ajv';
import { describe, expect, test } from 'vitest';
import { Analysis } from '../../server/src/core/checks/analysis.ts';
import { RULES } from '../../server/src/core/checks/rules.ts';
import { sarifLog } from '../../server/src/core/features/sarif.ts';

const require = createRequire(import.meta.url);
const library = dirname(require.resolve('@microsoft/jest-sarif/package.json'));
const {
  $schema: _,
  id: __,
  ...schema
} = JSON.parse(readFileSync(join(library, 'lib/schemas/sarif-2.1.0-rtm.5.json'), 'utf8'));

const ajv = new Ajv({ strict: false, allErrors: true, unicodeRegExp: false });
ajv.addFormat('uri', (text: string) => URL.canParse(text));
ajv.addFormat('uri-reference', (text: string) => URL.canParse(text, 'file:///') && !/[\s\\]/.test(text));
ajv.addFormat('date-time', (text: string) => !Number.isNaN(Date.parse(text)));
const isValid = ajv.compile(schema);

const slips = readFileSync(new URL('../../examples/first-five-minutes.nc', import.meta.url), 'utf8');
const findingsOf = (text: string) => {
  const analysis = new Analysis(text);
  analysis.run();
  return analysis.findings().findings;
};
const log = sarifLog(
  [
    { uri: 'examples/first-five-minutes.nc', findings: findingsOf(slips), more: 0 },
    { uri: 'a%20b.nc', findings: [], more: 3 },
  ],
  { version: '0.1.0', rules: RULES },
) as { runs: { results: Record<string, unknown>[]; tool: { driver: { rules: { id: string }[] } } }[] };

describe('the log', () => {
  test('is valid by the published schema', () => {
    isValid(JSON.parse(JSON.stringify(log)));
    expect(isValid.errors).toBeNull();
    expect(log.runs[0].results.length).toBeGreaterThan(5);
  });

  test('the schema finds what is wrong (so it does judge)', () => {
    const wrong = JSON.parse(JSON.stringify(log));
    wrong.runs[0].results[0].locations[0].physicalLocation.region.startLine = 0;
    wrong.runs[0].results[1].level = 'fatal';
    expect(isValid(wrong)).toBe(false);
    expect(isValid.errors?.map((error) => error.instancePath)).toEqual(
      expect.arrayContaining([expect.stringContaining('startLine'), expect.stringContaining('level')]),
    );
  });

  test('each result points at its own rule, from line 1, with its fixes', () => {
    const { rules } = log.runs[0].tool.driver;
    const first = log.runs[0].results.find((result) => result.ruleId === 'arc-centre-off-plane');
    expect(first).toMatchObject({
      level: 'error',
      locations: [{ physicalLocation: { region: { startLine: 20, startColumn: 18 } } }],
    });
    for (const result of log.runs[0].results) expect(rules[result.ruleIndex as number].id).toBe(result.ruleId);
    expect(log.runs[0].results.some((result) => Array.isArray(result.fixes))).toBe(true);
  });
});

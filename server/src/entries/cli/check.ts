/** `blockwright check`: what is wrong in programs, for people, programs and build servers. */

import { isAbsolute, sep } from 'node:path';
import { pathToFileURL } from 'node:url';
import { version } from '../../../../package.json';
import type { Analysis, Finding } from '../../core/checks/analysis.ts';
import type { Severity } from '../../core/checks/rule.ts';
import { RULES } from '../../core/checks/rules.ts';
import { sarifLog } from '../../core/features/sarif.ts';
import { analyse, type CheckedProgram, findingsOf, SEVERITIES } from './findings.ts';
import { type AppliedFix, applySafeFixes } from './fix.ts';
import { ExitCode, type Output, type Paint, Progress, painter, sayOnError, UsageError } from './output.ts';
import {
  commitReplacements,
  dropReplacements,
  ensureReadable,
  type ProgramFile,
  prepareReplacement,
  type Replacement,
  readProgram,
} from './programFile.ts';
import { type ConfigurationOptions, type FoundConfiguration, ShopFileFinder } from './shopFile.ts';
import { SubprogramFolders } from './subprogramFolder.ts';

/** Options of `check`. */
export interface CheckOptions extends ConfigurationOptions {
  readonly format: 'text' | 'json' | 'sarif';
  readonly severity: Severity;
  readonly fix?: boolean;
}

interface CheckResult extends CheckedProgram {
  readonly fixed: readonly AppliedFix[];
}

/**
 * Checks programs and prints what was found, after all of them were read: where one cannot be read, nothing is printed.
 * @throws UsageError
 */
export async function check(names: readonly string[], options: CheckOptions, output: Output): Promise<void> {
  if (options.fix && names.includes('-')) throw new UsageError('--fix needs a file; standard input cannot be written');
  ensureReadable(names);
  const finder = new ShopFileFinder(options);
  const found = new Map(names.map((name) => [name, finder.for(name)]));
  const results = await checkAll(names, found, options);
  for (const one of new Map([...found.values()].map((each) => [each.file, each])).values()) tellNotUsedYet(one);
  process.exitCode = results.some((result) => result.hasErrors) ? ExitCode.errors : ExitCode.fine;
  await print(results, options, output);
  await output.flush();
}

async function checkAll(
  names: readonly string[],
  found: ReadonlyMap<string, FoundConfiguration>,
  options: CheckOptions,
): Promise<CheckResult[]> {
  const progress = new Progress();
  const subprograms = new SubprogramFolders();
  const replacements: Replacement[] = [];
  const results: CheckResult[] = [];
  try {
    for (const name of names) {
      const file = await readProgram(name);
      const { configuration } = found.get(name)!;
      const host = subprograms.hostFor(name, configuration.profile.colon !== 'alignment');
      const analysis = analyse(file, configuration, host, progress);
      results.push(checkOne(file, analysis, options, replacements));
    }
    commitReplacements(replacements);
  } catch (error) {
    dropReplacements(replacements);
    throw error;
  } finally {
    progress.clear();
  }
  return results;
}

function checkOne(
  file: ProgramFile,
  analysis: Analysis,
  options: CheckOptions,
  replacements: Replacement[],
): CheckResult {
  const before = findingsOf(file, analysis, options.severity);
  if (!options.fix) return { ...before, fixed: [] };
  if (file.badBytes !== undefined) {
    sayOnError(`${file.name} is not repaired: it holds bytes that are no UTF-8 text`);
    return { ...before, fixed: [] };
  }
  const fixed = applySafeFixes(analysis, before.findings);
  if (fixed.length === 0) return { ...before, fixed };
  analysis.run();
  const replacement = prepareReplacement(file, analysis.text());
  const isKnown = replacements.some(({ target }) => target === replacement.target);
  if (isKnown) dropReplacements([replacement]);
  else replacements.push(replacement);
  return { ...findingsOf(file, analysis, options.severity), fixed };
}

function tellNotUsedYet({ file, notUsedYet }: FoundConfiguration): void {
  if (notUsedYet.length > 0) sayOnError(`${file}: not used yet: ${notUsedYet.join(', ')}`);
}

async function print(results: readonly CheckResult[], options: CheckOptions, output: Output): Promise<void> {
  if (options.format === 'json') await printJson(results, output);
  else if (options.format === 'sarif') await printSarif(results, output);
  else await printText(results, output);
}

const placeOf = ({ line, column, endLine, endColumn }: Omit<Finding, 'rule' | 'severity' | 'message' | 'fixes'>) => ({
  line: line + 1,
  column: column + 1,
  endLine: endLine + 1,
  endColumn: endColumn + 1,
});

function findingJson({ rule, severity, message, fixes, ...place }: Finding): object {
  const repairs = fixes.map(({ title, safe, edits }) => ({
    title,
    safe,
    edits: edits.map(({ text, ...range }) => ({ ...placeOf(range), text })),
  }));
  return { rule, severity, ...placeOf(place), message, fixes: repairs };
}

async function printJson(results: readonly CheckResult[], output: Output): Promise<void> {
  await output.write('{"version":1,"files":[');
  for (const [index, { name, lines, findings, more, fixed }] of results.entries()) {
    const fixes = fixed.map(({ finding, title }) => ({ rule: finding.rule, ...placeOf(finding), title }));
    const told = {
      file: name,
      lines,
      findings: findings.map(findingJson),
      ...(more > 0 && { more }),
      ...(fixes.length > 0 && { fixed: fixes }),
    };
    await output.write(`${index > 0 ? ',' : ''}\n${JSON.stringify(told)}`);
  }
  await output.write('\n]}\n');
}

async function printSarif(results: readonly CheckResult[], output: Output): Promise<void> {
  const files = results.map(({ name, findings, more }) => ({ uri: addressOf(name), findings, more }));
  await output.write(`${JSON.stringify(sarifLog(files, { version, rules: RULES }), null, 2)}\n`);
}

/** A relative name stays relative, percent-encoded; an absolute one gets its scheme. */
function addressOf(name: string): string {
  if (isAbsolute(name)) return pathToFileURL(name).href;
  return name.split(sep).map(encodeURIComponent).join('/');
}

const COLOURS: Readonly<Record<Severity, number>> = { error: 31, warning: 33, hint: 36 };

async function printText(results: readonly CheckResult[], output: Output): Promise<void> {
  const paint = painter(process.stdout);
  for (const { name, findings, more, fixed } of results) {
    for (const { finding, title } of fixed) {
      await output.write(`${place(name, finding)} ${paint(32, 'fixed')} ${oneLine(title)} [${finding.rule}]\n`);
    }
    for (const finding of findings) {
      const severity = paint(COLOURS[finding.severity], finding.severity);
      await output.write(`${place(name, finding)} ${severity} ${oneLine(finding.message)} [${finding.rule}]\n`);
    }
    if (more > 0) await output.write(`${name}: ${more} more of the same rules are not listed\n`);
  }
  await output.write(`${summary(results, paint)}\n`);
}

const place = (name: string, { line, column }: Finding): string => `${name}:${line + 1}:${column + 1}`;

const oneLine = (text: string): string => text.replaceAll(/\s*[\r\n]+\s*/g, ' ');

const counted = (count: number, word: string): string => `${count} ${word}${count === 1 ? '' : 's'}`;

function summary(results: readonly CheckResult[], paint: Paint): string {
  const lines = results.reduce((sum, result) => sum + result.lines, 0);
  const findings = results.flatMap((result) => result.findings);
  const fixed = results.reduce((sum, result) => sum + result.fixed.length, 0);
  const head = `${counted(results.length, 'file')}, ${counted(lines, 'line')}${fixed > 0 ? `, ${fixed} fixed` : ''}`;
  if (findings.length === 0) return `${head}: nothing found. That is no promise; prove the program on the machine.`;
  const parts = SEVERITIES.map((severity) => {
    const count = findings.filter((finding) => finding.severity === severity).length;
    return count === 0 ? '' : paint(COLOURS[severity], counted(count, severity));
  });
  return `${head}: ${parts.filter((part) => part !== '').join(', ')}`;
}

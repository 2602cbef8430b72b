/**
 * A program, or some of its lines, in a shop's style. Lines that read alike are harmless by themselves; for all others the
 * program is executed once more, and nothing is changed where it would do something else.
 */

import { generatedBlocks } from '../checks/support/generatedBlocks.ts';
import type { BlockNumbers } from '../machine/configuration.ts';
import { BATCH, counted, type LineChange, LONGEST, lineChange, type Outcome } from './formatEdits.ts';
import { type FormattedLine, formattedLine } from './formatLine.ts';
import { executedWith, harm, type ProofSource } from './formatProof.ts';
import { programScope } from './formatScope.ts';
import { type FormatStyle, plainStyle } from './formatStyle.ts';
import { renumber } from './renumber.ts';

/** Lines of the program from 0, both included. */
export interface FormatRange {
  readonly firstLine: number;
  readonly lastLine: number;
}

/** Changes that are known to be harmless, or why nothing is changed; `note`: what was left out all the same, and why. */
export type Formatted = Outcome & { readonly note?: string };

/** Formats the lines of a range, with pauses; the outcome comes last. Of programs longer than `mostLines` only spacing and letters. */
export function* formatRange(
  source: ProofSource,
  style: FormatStyle,
  range: FormatRange,
  mostLines = LONGEST,
): Generator<undefined, Formatted> {
  const { analysis } = source;
  const isLong = analysis.lineCount > mostLines;
  const lines = yield* formattedLines(source, style, range);
  const needsRun = lines.some(({ formatted }) => !formatted.isReadAlike);
  const kept = isLong ? lines.flatMap((one) => withoutRun(source, style, one)) : lines;
  const changes = kept.map(({ line, formatted }) => lineChange(line, analysis.lineText(line), formatted.text));
  if (isLong && needsRun) return { changes, note: onlyPartly(mostLines) };
  const refusal = needsRun ? yield* harm(source, changes) : undefined;
  return refusal === undefined ? { changes } : { refusal };
}

/** A line as far as it can be formatted without executing the program again. */
const withoutRun = ({ analysis, configuration }: ProofSource, style: FormatStyle, one: ChangedLine): ChangedLine[] => {
  if (one.formatted.isReadAlike) return [one];
  const formatted = formattedLine(analysis.lineText(one.line), plainStyle(style), configuration.profile);
  return formatted === undefined ? [] : [{ line: one.line, formatted }];
};

const onlyPartly = (mostLines: number): string =>
  `Only spacing and letters were changed: in a program of more than ${counted(mostLines)} lines nothing else is.`;

/** Formats a program of up to 300,000 lines, and its block numbers where the style wants that; with pauses, the outcome comes last. */
export function* formatProgram(
  source: ProofSource,
  style: FormatStyle,
  numbers: Pick<BlockNumbers, 'start' | 'step'>,
): Generator<undefined, Formatted> {
  const { analysis } = source;
  const { lineCount } = analysis;
  if (lineCount > LONGEST) return { refusal: { line: -1, why: tooLong(lineCount) } };
  const all = { firstLine: 0, lastLine: lineCount - 1 };
  if (style.sequenceNumbers === 'keep') return yield* formatRange(source, style, all);
  // Numbers first, so that they are formatted too.
  const numbered = yield* renumber(source, style.sequenceNumbers, numbers);
  if ('refusal' in numbered) {
    const formatted = yield* formatRange(source, style, all);
    return { ...formatted, note: `Block numbers are left as they are. ${numbered.refusal.why}` };
  }
  const between = yield* executedWith(source, numbered.changes);
  const formatted = yield* formatRange({ ...source, analysis: between }, style, all);
  if ('refusal' in formatted) return formatted;
  const own = new Map(formatted.changes.map((change) => [change.line, change]));
  const lines = new Set([...formatted.changes, ...numbered.changes].map(({ line }) => line));
  const changes = [...lines]
    .sort((a, b) => a - b)
    .map((line) => lineChange(line, analysis.lineText(line), changedLine(between.lineText(line), own.get(line))));
  // A number that was taken away and a blank that came may leave a line as it was.
  return { changes: changes.filter(({ column, endColumn, text }) => column < endColumn || text !== '') };
}

const changedLine = (text: string, change: LineChange | undefined): string =>
  change === undefined ? text : text.slice(0, change.column) + change.text + text.slice(change.endColumn);

const tooLong = (lineCount: number): string =>
  `The program has ${counted(lineCount)} lines, and more than ${counted(LONGEST)} are not formatted at once. Select some lines and format the selection.`;

/** A line that is to be changed. */
interface ChangedLine {
  readonly line: number;
  readonly formatted: FormattedLine;
}

function* formattedLines(
  { analysis, configuration }: ProofSource,
  style: FormatStyle,
  { firstLine, lastLine }: FormatRange,
): Generator<undefined, ChangedLine[]> {
  const { profile } = configuration;
  const isProgram = programScope(analysis);
  const isDelicate = delicateLines(analysis);
  const plain = plainStyle(style);
  const found: ChangedLine[] = [];
  for (let line = firstLine; line <= lastLine; line++) {
    if (line % BATCH === BATCH - 1) yield undefined;
    if (!isProgram(line)) continue;
    const formatted = formattedLine(analysis.lineText(line), isDelicate(line) ? plain : style, profile);
    if (formatted !== undefined) found.push({ line, formatted });
  }
  return found;
}

/** Lines of which only spacing and letters are touched: those with an error, which is best seen as it was typed, and generated blocks, whose check value counts their figures. */
const delicateLines = (analysis: ProofSource['analysis']): ((line: number) => boolean) => {
  const { blocks } = generatedBlocks(analysis.programFacts());
  const wrong = new Set(
    analysis.findings().findings.flatMap(({ severity, line }) => (severity === 'error' ? line : [])),
  );
  return (line) => wrong.has(line) || blocks.some(({ firstLine, lastLine }) => firstLine <= line && line <= lastLine);
};

/**
 * A program, or some of its lines, in a shop's style. Lines that read alike are harmless by themselves; for all others the
 * program is executed once more, and nothing is changed where it would do something else.
 */
import { generatedBlocks } from '../checks/support/generatedBlocks.ts';
import { BATCH, counted, LONGEST, lineChange, type Outcome } from './formatEdits.ts';
import { type FormattedLine, formattedLine } from './formatLine.ts';
import { harm, type ProofSource } from './formatProof.ts';
import { programScope } from './formatScope.ts';
import { type FormatStyle, plainStyle } from './formatStyle.ts';

/** Lines of the program from 0, both included. */
export interface FormatRange {
  readonly firstLine: number;
  readonly lastLine: number;
}

/** `changes` that are known to be harmless, or why nothing is changed; `isPartly`: what needs the run to be compared was left out. */
export type Formatted = Outcome & { readonly isPartly?: boolean };

/**
 * Formats the lines of a range, or all; with pauses, the outcome comes last. Of a program longer than 300,000 lines a range is
 * formatted in spacing and letters only.
 */
export function* formatProgram(
  source: ProofSource,
  style: FormatStyle,
  range?: FormatRange,
): Generator<undefined, Formatted> {
  const { analysis } = source;
  const isLong = analysis.lineCount > LONGEST;
  if (isLong && range === undefined) return { refusal: { line: -1, why: tooLong(analysis.lineCount) } };
  const lines = yield* formattedLines(source, style, range ?? { firstLine: 0, lastLine: analysis.lineCount - 1 });
  const needsRun = lines.some(({ formatted }) => !formatted.isReadAlike);
  const kept = isLong ? lines.filter(({ formatted }) => formatted.isReadAlike) : lines;
  const changes = kept.map(({ line, formatted }) => lineChange(line, analysis.lineText(line), formatted.text));
  if (needsRun && !isLong) {
    const refusal = yield* harm(source, changes);
    if (refusal !== undefined) return { refusal };
  }
  return { changes, ...(isLong && needsRun ? { isPartly: true } : {}) };
}

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

/**
 * What a program could do without, to be shown dimmed: variables that are set and never read, blocks that the run never
 * comes to, modes that are given again although they hold. Only what is sure: whatever may be meant for another program, for
 * a start in the middle, or for safety is left alone. Lines and columns count from 0.
 */
import type { Analysis } from '../checks/analysis.ts';
import { FactKind, type ProgramFacts } from '../checks/facts.ts';
import { generatedBlocks } from '../checks/support/generatedBlocks.ts';
import type { Configuration } from '../machine/configuration.ts';
import type { VariableName } from '../syntax/variables.ts';
import { hasDigest, type UnneededDigest, unneededDigest } from './unneededDigest.ts';

/** A stretch that is not needed, and why. */
export interface Unneeded {
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
  readonly message: string;
}

/** More of one kind are not told. */
const MOST = 1000;
/** Variables from here on stay when the control is switched off, or are its own: other programs may read them. Common practice, no source. */
const FIRST_KEPT = 500;

interface PlacedDigest {
  readonly digest: UnneededDigest;
  readonly firstLine: number;
}

/** What is searched. */
interface Searched {
  readonly analysis: Analysis;
  readonly digests: readonly PlacedDigest[];
  readonly facts: ProgramFacts;
}

/** Finds them in steps, for long programs: pauses now and then. The analysis must be up to date. */
export function* unneeded(analysis: Analysis, configuration: Configuration): Generator<undefined, Unneeded[]> {
  const digests: PlacedDigest[] = [];
  for (let chunk = 0; chunk < analysis.chunks.length; chunk++) {
    const text = analysis.chunkText(chunk);
    const isKnown = hasDigest(text, configuration.profile);
    digests.push({ digest: unneededDigest(text, configuration.profile), firstLine: analysis.chunkFirstLine(chunk) });
    if (!isKnown) yield undefined;
  }
  yield undefined;
  const program: Searched = { analysis, digests, facts: analysis.programFacts() };
  const blocks = [...neverReached(program), ...skippedBlocks(program, configuration)];
  yield undefined;
  // A generated block says all that it counts on, so that it stays right when what stands before it changes.
  const generated = generatedBlocks(program.facts).blocks;
  const isIn = (line: number): boolean =>
    blocks.some(({ line: from, endLine }) => from <= line && line <= endLine) ||
    generated.some(({ firstLine, lastLine }) => firstLine <= line && line <= lastLine);
  const words = [...unreadVariables(program), ...repeatedModes(program)];
  const all = [...blocks, ...words.filter(({ line }) => !isIn(line))];
  return all.sort((a, b) => a.line - b.line || a.column - b.column);
}

/** Variables that the text sets and never reads. */
function unreadVariables({ analysis, digests, facts }: Searched): Unneeded[] {
  const found: Unneeded[] = [];
  if (!digests.some(({ digest }) => digest.sets.length > 0)) return found;
  if (digests.some(({ digest }) => digest.readsAny) || facts.isSubprogramFile || callsElsewhere(analysis, facts))
    return found;
  const read = new Set<VariableName>();
  for (const { digest } of digests) for (const name of digest.reads) read.add(name);
  for (const { digest, firstLine } of digests) {
    for (const { name, line, column, endColumn } of digest.sets) {
      if (read.has(name) || isForOthers(name) || found.length >= MOST) continue;
      const place = { line: firstLine + line, column, endLine: firstLine + line, endColumn };
      const written = typeof name === 'number' ? `#${name}` : `#<${name}>`;
      found.push({ ...place, message: `${written} is set here, but nothing in this program reads it.` });
    }
  }
  return found;
}

/** Variables that other programs or the control may read. */
const isForOthers = (name: VariableName): boolean =>
  typeof name === 'string' ? name.startsWith('_') : name >= FIRST_KEPT || name === 0;

/** True if a program is called that is not in this text: it may read what is set here. */
const callsElsewhere = (analysis: Analysis, facts: ProgramFacts): boolean =>
  facts.of(FactKind.callTarget).some(({ a }) => a < 0 || analysis.whereIsProgram(a) !== 'here');

/**
 * Blocks that no way leads to, each run of them as one; only in programs that the run comes to at all, and where all its
 * ways hang on values that the text itself sets.
 */
function neverReached({ analysis, digests, facts }: Searched): Unneeded[] {
  const found: Unneeded[] = [];
  const message = 'The run never comes to these blocks.';
  if (analysis.runsStraight) {
    const starts = facts.of(FactKind.afterEnd);
    if (starts.length === 0) return found;
    const programs = facts.of(FactKind.programNumber);
    for (const { line } of starts.slice(0, MOST)) {
      const next = programs.find((program) => program.line > line)?.line ?? analysis.lineCount;
      addLines(analysis, line, next - 1, message, found);
    }
    return found;
  }
  if (analysis.stopped !== undefined || facts.of(FactKind.notExecuted).length > 0) return found;
  if (readsForeignValues(digests)) return found;
  const reached = new Set<number>();
  const never: { readonly firstLine: number; endLine: number }[] = [];
  const { units } = analysis.layout;
  const unitAt = (line: number): number => units.findIndex(({ endLine }) => line < endLine);
  for (const { segment, firstLine } of analysis.passages()) {
    const endLine = firstLine + segment.blockCount;
    const last = never[never.length - 1];
    // Chunks of lines part what belongs together.
    if (segment.pass === 0 && last?.endLine === firstLine) last.endLine = endLine;
    else if (segment.pass === 0) never.push({ firstLine, endLine });
    else if (segment.pass === 1 && segment.blockCount > 0) reached.add(unitAt(firstLine));
  }
  for (const { firstLine, endLine } of never) {
    for (let line = firstLine; line < endLine && found.length < MOST; ) {
      const unit = units[unitAt(line)];
      const last = Math.min(endLine, unit?.endLine ?? endLine) - 1;
      if (reached.has(unitAt(line))) addLines(analysis, line, last, message, found);
      line = last + 1;
    }
  }
  return found;
}

/** True if a variable is read that the operator or another program may have set. */
function readsForeignValues(digests: readonly PlacedDigest[]): boolean {
  if (digests.some(({ digest }) => digest.readsAny)) return true;
  const set = new Set<VariableName>([0]);
  for (const { digest } of digests) for (const { name } of digest.sets) set.add(name);
  return digests.some(({ digest }) =>
    [...digest.reads].some((name) => !set.has(name) || (name !== 0 && isForOthers(name))),
  );
}

/** Lines from `first` to `last`, without remarks, tape marks and empty lines at both ends. */
function addLines(analysis: Analysis, first: number, last: number, message: string, found: Unneeded[]): void {
  let [from, to] = [first, last];
  while (from <= to && hasNoBlock(analysis.lineText(from))) from++;
  while (to >= from && hasNoBlock(analysis.lineText(to))) to--;
  if (from > to) return;
  const text = analysis.lineText(from);
  const column = text.length - text.trimStart().length;
  found.push({ line: from, column, endLine: to, endColumn: analysis.lineText(to).trimEnd().length, message });
}

const hasNoBlock = (text: string): boolean => /^\s*(?:%.*|\/\/.*|(?:\([^)]*\)?\s*)*(?:;.*)?)$/.test(text);

/** Blocks with `/` where the shop has block delete on. */
function skippedBlocks({ analysis, digests }: Searched, { blockDelete }: Configuration): Unneeded[] {
  const found: Unneeded[] = [];
  if (blockDelete !== 'skip') return found;
  for (const { digest, firstLine } of digests) {
    for (const line of digest.deleted) {
      if (found.length < MOST)
        addLines(analysis, firstLine + line, firstLine + line, 'Block delete is on: this block is skipped.', found);
    }
  }
  return found;
}

/**
 * Modes that are given again in one tool section although they hold. Not before the section's first move, where all is said
 * anew on purpose; not in subprograms and loops, which begin with what holds at their calls; not where the program jumps.
 */
function repeatedModes({ analysis, digests, facts }: Searched): Unneeded[] {
  const found: Unneeded[] = [];
  if (facts.isSubprogramFile || facts.of(FactKind.jumpTarget).length > 0) return found;
  const isOpen = placesForModes(analysis);
  const given = new Map<number, number>();
  let hasMoved = false;
  for (const { digest, firstLine } of digests) {
    for (const event of digest.events) {
      if (event.kind === 'move') hasMoved = true;
      else if (event.kind !== 'mode') {
        given.clear();
        if (event.kind === 'section') hasMoved = false;
      } else if (event.value === undefined) given.delete(event.key);
      else {
        const { key, value, column, endColumn } = event;
        const line = firstLine + event.line;
        const isAgain = given.get(key) === value;
        given.set(key, value);
        if (!isAgain || !hasMoved || found.length >= MOST || !isOpen(line)) continue;
        const word = analysis.lineText(line).slice(column, endColumn).replace(/\s+/g, '').toUpperCase();
        found.push({ line, column, endLine: line, endColumn, message: `${word} holds already.` });
      }
    }
  }
  return found;
}

/** Tells lines of the first program that stand in no loop. */
function placesForModes(analysis: Analysis): (line: number) => boolean {
  if (analysis.runsStraight) return () => true;
  const { units, loops } = analysis.layout;
  const behind = units[0]?.endLine ?? 0;
  return (line) => line < behind && !loops.some(({ head, end }) => head <= line && line <= end);
}

/**
 * What can be folded: programs, tool sections, generated blocks, loops, remarks of several lines, and what stands between
 * two tape marks. Lines count from 0.
 */
import type { Analysis } from '../checks/analysis.ts';
import { generatedBlocks } from '../checks/support/generatedBlocks.ts';
import type { OutlineItem } from './outline.ts';

/** A run of whole lines. */
export interface Folding {
  readonly line: number;
  readonly endLine: number;
  readonly kind: 'section' | 'remark';
}

/** Lines read without a pause. */
const BATCH = 4000;
const PERCENT = 37;
const BRACKET = 40;
const SEMICOLON = 59;
const SLASH = 47;

/**
 * Finds the foldings in steps, for long programs: pauses now and then, the outcome comes last. Sorted by first line.
 * `outline` is that of the same text.
 */
export function* foldings(analysis: Analysis, outline: readonly OutlineItem[]): Generator<undefined, Folding[]> {
  const found: Folding[] = [];
  let tapeMark = -1;
  let remark = -1;
  const endRemark = (line: number): void => {
    if (remark >= 0 && line - remark > 1) found.push({ line: remark, endLine: line - 1, kind: 'remark' });
    remark = -1;
  };
  for (let line = 0; line < analysis.lineCount; line++) {
    if (line % BATCH === BATCH - 1) yield undefined;
    const text = analysis.lineText(line).trim();
    if (isRemark(text)) {
      if (remark < 0) remark = line;
      continue;
    }
    endRemark(line);
    if (text.charCodeAt(0) !== PERCENT) continue;
    if (tapeMark >= 0 && line > tapeMark + 1) found.push({ line: tapeMark, endLine: line, kind: 'section' });
    tapeMark = tapeMark < 0 ? line : -1;
  }
  endRemark(analysis.lineCount);
  found.push(...outline.flatMap(sections));
  for (const { firstLine, lastLine } of generatedBlocks(analysis.programFacts()).blocks) {
    found.push({ line: firstLine, endLine: lastLine, kind: 'section' });
  }
  return found.sort((a, b) => a.line - b.line || b.endLine - a.endLine);
}

/** True for a line that is nothing but one remark. */
function isRemark(text: string): boolean {
  const first = text.charCodeAt(0);
  if (first === SEMICOLON) return true;
  if (first === SLASH) return text.charCodeAt(1) === SLASH;
  return first === BRACKET && text.indexOf(')') === text.length - 1;
}

const sections = (item: OutlineItem): Folding[] => {
  const inner = item.children.filter((child) => child.kind !== 'operation').flatMap(sections);
  // Generated blocks are folded by their remarks, whatever is changed between them.
  if (item.endLine <= item.line || item.kind === 'block') return inner;
  return [{ line: item.line, endLine: item.endLine, kind: 'section' }, ...inner];
};

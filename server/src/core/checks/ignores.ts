/**
 * Remarks that silence rules: `( blockwright-ignore CODE )` holds for its block, alone on a line for the next block;
 * `( blockwright-ignore-begin CODE )` … `( blockwright-ignore-end CODE )` for a range. Several codes may follow.
 */
import type { Fact } from './facts.ts';

/** Says for a rule and a line whether a remark silences it. */
export type Ignores = (code: string, line: number) => boolean;

interface Range {
  readonly code: string;
  readonly from: number;
  to: number;
}

const DIRECTIVE = /blockwright-ignore(-begin|-end)?((?:[\s,]+[a-z][a-z-]*)+)/i;

/** Ranges of lines that the remarks silence. `isBlank` tells lines without a block. */
export const readIgnores = (facts: readonly Fact[], isBlank: (line: number) => boolean, lineCount: number): Ignores => {
  if (facts.length === 0) return () => false;
  const ranges: Range[] = [];
  for (const fact of facts) {
    const match = DIRECTIVE.exec(fact.text);
    if (match === null) continue;
    const codes = match[2]
      .toLowerCase()
      .split(/[\s,]+/)
      .filter((code) => code !== '');
    for (const code of codes) addRange(ranges, code, (match[1] ?? '').toLowerCase(), fact, isBlank, lineCount);
  }
  return (code, line) => ranges.some((range) => range.code === code && line >= range.from && line <= range.to);
};

const addRange = (
  ranges: Range[],
  code: string,
  kind: string,
  fact: Fact,
  isBlank: (line: number) => boolean,
  lineCount: number,
): void => {
  if (kind === '-begin') ranges.push({ code, from: fact.line, to: Number.POSITIVE_INFINITY });
  else if (kind === '-end') {
    for (const range of ranges) if (range.code === code && range.to === Number.POSITIVE_INFINITY) range.to = fact.line;
  } else {
    let to = fact.line;
    if (fact.a === 1) {
      to++;
      while (to < lineCount - 1 && isBlank(to)) to++;
    }
    ranges.push({ code, from: fact.line, to });
  }
};

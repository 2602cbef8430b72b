/** Remarks that name what follows: in a line of their own above it. How programs are titled is common practice, no source. */
import type { Analysis } from '../checks/analysis.ts';

/** How far above an operation its title may stand, lines: feed, speed and the way there come between. */
const REACH = 8;
/** A longer remark explains, it does not name. */
const LONGEST = 40;
const ALONE = /^\s*(?:N\s*\d+\s*)?(?:\(([^()]*)\)|;(.*)|\/\/(.*))\s*$/i;
const WITHIN = /\(([^()]*)\)|;(.*)/;
const OWN_MARKER = /BLOCKWRIGHT-/i;

/** The remark alone in a line next above `line`, behind line `after`; empty where there is none, or where it goes over several lines. */
export function titleAbove(analysis: Analysis, line: number, after: number): string {
  for (let above = line - 1; above > after && above >= line - REACH && above >= 0; above--) {
    const text = remarkAlone(analysis, above);
    if (text === '') continue;
    const isTitle = text.length <= LONGEST && !OWN_MARKER.test(text) && remarkAlone(analysis, above - 1) === '';
    return isTitle ? text : '';
  }
  return '';
}

/** What a program is called: the remark in its first line, else the one alone in the next line. */
export const nameOfProgram = (analysis: Analysis, line: number): string =>
  remarkIn(analysis.lineText(line)) || remarkAlone(analysis, line + 1);

/** The remark that is all of a line. */
function remarkAlone(analysis: Analysis, line: number): string {
  if (line < 0) return '';
  const words = analysis.lineText(line);
  // Most lines have no remark.
  const match = /[(;/]/.test(words) ? ALONE.exec(words) : null;
  return match === null ? '' : clean(match[1] ?? match[2] ?? match[3]);
}

/** The first remark in a line; empty where there is none. */
function remarkIn(text: string): string {
  const match = WITHIN.exec(text);
  return match === null ? '' : clean(match[1] ?? match[2]);
}

const clean = (text: string): string => text.trim().replace(/\s+/g, ' ');

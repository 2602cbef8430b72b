/**
 * Which programs a part of the shop's file is for: patterns on a file's name, or on its path from the folder of the shop's
 * file where the pattern has a slash. Capitals do not matter: the same program is bracket.nc here and BRACKET.NC there.
 */
import { Minimatch, type MinimatchOptions } from 'minimatch';

const MOST_STARS = 4;
const LONGEST = 200;

/** No negation, no remarks, no further bracket forms: what a pattern may hold is what the schema's words say. */
const OPTIONS: MinimatchOptions = {
  nocase: true,
  nonegate: true,
  nocomment: true,
  noext: true,
  dot: true,
  platform: 'linux',
  braceExpandMax: 100,
  maxGlobstarRecursion: 4,
};

/** What is wrong with a pattern that no program can fit, as a sentence; undefined where nothing is. */
export function patternProblem(pattern: string): string | undefined {
  if (pattern.trim() === '') return 'This pattern is empty. Write "*.nc" for all programs that end so.';
  if (pattern.length > LONGEST) return `This pattern is longer than ${LONGEST} characters.`;
  if (pattern.includes('\\')) return 'Write / between folders in a pattern, not \\.';
  if (/^(\/|[a-z]:)/i.test(pattern)) return 'A pattern counts from this file’s folder. Leave the way to it out.';
  const parts = pattern.split('/');
  if (parts.some((part) => part === '.' || part === '..')) {
    return 'A pattern goes down from this file’s folder only. Leave . and .. out.';
  }
  if (pattern.endsWith('/')) return `This names a folder. Write "${pattern}**" for all programs in it.`;
  if (parts.some((part) => part !== '**' && part.split('*').length - 1 > MOST_STARS)) {
    return `More than ${MOST_STARS} * in one name. Fewer of them fit the same programs.`;
  }
  if (parts.filter((part) => part === '**').length > MOST_STARS) return `More than ${MOST_STARS} ** in one pattern.`;
  return bracketProblem(pattern);
}

function bracketProblem(pattern: string): string | undefined {
  for (const [open, close] of ['[]', '{}']) {
    const opened = pattern.split(open).length;
    const closed = pattern.split(close).length;
    if (opened > closed) return `The closing ${close} is missing in this pattern.`;
    if (closed > opened) return `The opening ${open} is missing in this pattern.`;
  }
  const range = /([0-9])-([0-9])|([a-z])-([a-z])/gi;
  for (const [inside] of pattern.matchAll(/\[[^\]]*\]/g)) {
    for (const [all, a, b, c, d] of inside.matchAll(range)) {
      if ((a ?? c).toLowerCase() > (b ?? d).toLowerCase()) return `${all} runs backwards, so that nothing fits it.`;
    }
  }
  return undefined;
}

/** True where a pattern fits a program; `path` is its path from the folder of the shop's file, with / between folders. */
export function fitsPattern(pattern: string, path: string): boolean {
  const name = pattern.includes('/') ? path : path.slice(path.lastIndexOf('/') + 1);
  return new Minimatch(pattern, OPTIONS).match(name);
}

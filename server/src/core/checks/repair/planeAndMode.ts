/** Candidates that change a code: the plane, what centre words count from, the direction. */
import { Mode } from '../../machine/modes.ts';
import { type Block, letterIndex } from '../../syntax/block.ts';
import { type Candidate, editWord, inFront } from './candidate.ts';
import type { ArcSite } from './site.ts';

const G = letterIndex('G');
const PLANES = [17, 18, 19];
/** How far back the line is looked for that selects the plane. */
const LOOK_BACK = 5000;

/** Index of the last G word whose code is one of these, −1 without. */
const codeWord = (block: Block, codes: readonly number[]): number => {
  for (let i = block.wordCount - 1; i >= 0; i--) {
    if (block.letters[i] === G && codes.includes(block.values[i])) return i;
  }
  return -1;
};

const code = (site: ArcSite, number: number | string): string => `${site.style.lowerCase ? 'g' : 'G'}${number}`;

/** Another plane: its code exchanged where it was selected, and selected in the arc's own block. */
export const planeCandidates = (site: ArcSite): Candidate[] => {
  const others = PLANES.filter((plane) => plane !== site.arc.plane);
  const own = codeWord(site.block, PLANES);
  const change = { family: 'code' as const, alike: '', alikeTitle: '', isRetyped: true };
  if (own >= 0) {
    return others.map((plane) => {
      const text = site.block.wordText(own).replace(/\d+(?!.*\d)/, String(plane));
      return { ...change, does: `Write ${code(site, plane)}`, edits: [editWord(site, own, text)] };
    });
  }
  const earlier = planeSetBefore(site);
  return others.flatMap((plane) => {
    const here = { ...change, does: `Write ${code(site, plane)}`, edits: [inFront(site, code(site, plane))] };
    if (earlier === undefined) return [here];
    const { line, column, endColumn, text } = earlier;
    const written = text.replace(/\d+(?!.*\d)/, String(plane));
    const edits = [{ line, column, endColumn, text: written }];
    return [{ ...change, does: `Write ${code(site, plane)} in line ${line + 1}`, edits, probe: here.edits }, here];
  });
};

/** The word above the arc that selected the plane it runs in. */
const planeSetBefore = ({
  source,
  line: arcLine,
}: ArcSite): { line: number; column: number; endColumn: number; text: string } | undefined => {
  for (let line = arcLine - 1; line >= Math.max(0, arcLine - LOOK_BACK); line--) {
    if (!/G\s*0*1\s*[789](?![\d.])/i.test(source.lineText(line))) continue;
    const block = source.readBlock(line);
    const word = codeWord(block, PLANES);
    if (word < 0) continue;
    const column = block.starts[word] - block.start;
    return { line, column, endColumn: block.ends[word] - block.start, text: block.wordText(word) };
  }
  return undefined;
};

/** Centre words that count from the program's zero, or from the start point, from this block on. */
export const arcDistanceCandidates = (site: ArcSite): Candidate[] => {
  if (!site.knowsArcDistance || site.arc.byRadius) return [];
  const number = site.modes[Mode.arcDistance] === 90 ? '91.1' : '90.1';
  const own = codeWord(site.block, [90.1, 91.1]);
  const edit = own >= 0 ? editWord(site, own, code(site, number)) : inFront(site, code(site, number));
  return [
    {
      family: 'code',
      alike: '',
      alikeTitle: '',
      does: `Write ${code(site, number)}`,
      edits: [edit],
      isRetyped: true,
    },
  ];
};

/** G2 for G3 or G3 for G2. */
export const directionCandidates = (site: ArcSite): Candidate[] => {
  const { arc, block, modes } = site;
  const isClockwise = modes[Mode.motion] === 20;
  const number = isClockwise ? 3 : 2;
  const text = arc.motionWord < 0 ? '' : block.wordText(arc.motionWord).replace(/\d(?!.*\d)/, String(number));
  const edit = arc.motionWord < 0 ? inFront(site, code(site, number)) : editWord(site, arc.motionWord, text);
  const alikeTitle = `write ${code(site, number)} for ${code(site, isClockwise ? 2 : 3)}`;
  return [
    {
      family: 'code',
      alike: `direction ${number}`,
      alikeTitle,
      does: `Write ${text || code(site, number)}`,
      edits: [edit],
      isRetyped: true,
    },
  ];
};

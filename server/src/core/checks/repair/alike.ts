/** One repair for all arcs of a program that are wrong in the same way. */
import type { Finding, FindingEdit } from '../findings.ts';
import { RULES } from '../rules.ts';
import type { ArcRepair, ArcRepairs } from './arcRepairs.ts';
import { CENTRE_SIGN } from './retyped.ts';

/** Repairs of one kind that are offered for all at most. */
const MOST_KINDS = 2;

/** A repair of several arcs. */
export interface AlikeRepair {
  /** "Repair all 7 alike: write J for K". */
  readonly title: string;
  readonly edits: readonly FindingEdit[];
}

const SEARCHED = new Set(RULES.filter((rule) => rule.repairedBySearch).map(({ code }) => code));

/** True if the repairs of a rule's findings are searched for. */
export const isRepairedBySearch = (code: string): boolean => SEARCHED.has(code);

/** What repairs the arc of a finding and all others that are wrong and repaired in the same way. */
export const repairsAlike = (search: ArcRepairs, finding: Finding, all: readonly Finding[]): AlikeRepair[] => {
  if (!isRepairedBySearch(finding.rule)) return [];
  const others = all.filter(({ rule, line }) => rule === finding.rule && line !== finding.line);
  if (others.length === 0) return [];
  const found: AlikeRepair[] = [];
  const kinds = new Set<string>();
  for (const [place, repair] of search.at(finding.line, finding.rule).entries()) {
    if (repair.alike === '' || kinds.has(repair.alike) || found.length === MOST_KINDS) continue;
    kinds.add(repair.alike);
    // As for the others: signs are turned together only where nothing else is better.
    if (repair.alike === CENTRE_SIGN && place > 0) continue;
    const together = allTogether(search, finding.rule, repair, others);
    if (together !== undefined) found.push(together);
  }
  return found;
};

const allTogether = (
  search: ArcRepairs,
  code: string,
  repair: ArcRepair,
  others: readonly Finding[],
): AlikeRepair | undefined => {
  const lines = new Set(others.map(({ line }) => line));
  const helped = [...lines].flatMap((line) => search.alike(line, code, repair.alike) ?? []);
  if (helped.length === 0) return undefined;
  const repairs = [repair, ...helped];
  const edits = repairs.flatMap((one) => one.edits);
  return {
    title: `Repair all ${repairs.length} alike: ${titleOf(repairs)}`,
    edits: edits.sort((a, b) => a.line - b.line || a.column - b.column),
  };
};

/** What all do: as the first one says, or for signs without the letters where these differ. */
const titleOf = (repairs: readonly ArcRepair[]): string => {
  const [{ alike, alikeTitle }] = repairs;
  if (alike !== CENTRE_SIGN || repairs.every((one) => one.alikeTitle === alikeTitle)) return alikeTitle;
  return `turn the sign of the centre ${repairs.some(({ edits }) => edits.length > 1) ? 'words' : 'word'}`;
};

/** One repair for all arcs of a program that are wrong in the same way. */
import type { Finding, FindingEdit } from '../findings.ts';
import { RULES } from '../rules.ts';
import type { ArcRepair, ArcRepairs } from './arcRepairs.ts';

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
  for (const repair of search.at(finding.line, finding.rule)) {
    if (repair.alike === '' || kinds.has(repair.alike) || found.length === MOST_KINDS) continue;
    kinds.add(repair.alike);
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
  const edits = [repair, ...helped].flatMap((one) => one.edits);
  return {
    title: `Repair all ${helped.length + 1} alike: ${repair.alikeTitle}`,
    edits: edits.sort((a, b) => a.line - b.line || a.column - b.column),
  };
};

/** The repairs of a wrong arc as the client lists them. */
import type { TextEdit } from 'vscode-languageserver';
import type { Finding } from '../core/checks/findings.ts';
import { type AlikeRepair, isRepairedBySearch, repairsAlike } from '../core/checks/repair/alike.ts';
import type { GhostEdit } from '../core/geometry/pathRequest.ts';
import { toTextEdits } from './convert.ts';
import type { Program } from './programs.ts';

/** A line of the list; `preview` are the edits for the layer `ghost` of the path. */
export interface ArcRepairItem {
  readonly title: string;
  readonly edits: TextEdit[];
  readonly preview: GhostEdit[];
}

/** What repairs all arcs with the fault of a finding; empty for findings of other things, and for a fault that is alone. */
export function alikeIn(program: Program, finding: Finding, all: readonly Finding[]): AlikeRepair[] {
  const search = program.analysis.arcRepairs;
  return search === undefined ? [] : repairsAlike(search, finding, all);
}

/** The repairs of the wrong arc in a line of an up-to-date program. */
export function arcRepairsIn(program: Program, line: number): ArcRepairItem[] {
  const { findings } = program.analysis.findings();
  const own = findings.filter((finding) => finding.line === line && isRepairedBySearch(finding.rule));
  const items = [
    ...own.flatMap(({ fixes }) => fixes.map(toItem)),
    ...own.flatMap((finding) => alikeIn(program, finding, findings).map(toItem)),
  ];
  return items.filter(({ title }, place) => items.findIndex((item) => item.title === title) === place);
}

const toItem = ({ title, edits }: Pick<AlikeRepair, 'title' | 'edits'>): ArcRepairItem => ({
  title,
  edits: toTextEdits(edits),
  preview: edits.map(({ line, column, endColumn, text }) => ({ line, column, endColumn, text })),
});

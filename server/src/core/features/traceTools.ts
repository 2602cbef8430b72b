/** The tools of a program, in the order in which they come into the spindle. */
import { type Fact, FactKind } from '../checks/facts.ts';
import type { ToolRow } from '../machine/configuration.ts';
import { MoveFlag, type MoveTable } from '../machine/moves.ts';
import type { ToolPart } from './traceSummary.ts';

/** A tool and its part of the path. */
export interface TracedTool extends ToolPart {
  /** Line of its first tool change, counted from 0. */
  readonly line: number;
  /** From the tool table, else the remark at the tool change; empty where there is none. */
  readonly description: string;
}

interface ToolSource {
  /** Segments in the order of the run. */
  passages(): Iterable<{
    readonly segment: { readonly facts: readonly Fact[]; readonly moves: MoveTable };
    readonly firstLine: number;
  }>;
}

/** The tools of the file's first program; a tool that comes back has one row, with all its moves. */
export function toolList(source: ToolSource, table: readonly ToolRow[], parts: readonly ToolPart[]): TracedTool[] {
  const tools = new Map<number, TracedTool>();
  for (const { segment, firstLine } of source.passages()) {
    const end = nextProgramIn(segment.moves);
    for (const fact of segment.facts) {
      if (fact.kind !== FactKind.toolChange || tools.has(fact.a) || fact.line >= end) continue;
      const description = table.find((row) => row.number === fact.a)?.description ?? fact.text;
      const part = parts.find((one) => one.number === fact.a) ?? { length: 0, seconds: 0 };
      const line = firstLine + fact.line;
      tools.set(fact.a, { number: fact.a, line, description, length: part.length, seconds: part.seconds });
    }
    if (end < Number.POSITIVE_INFINITY) break;
  }
  return [...tools.values()];
}

/** Line of a segment at which the next program of the file begins. */
function nextProgramIn(moves: MoveTable): number {
  for (let i = 0; i < moves.count; i++) {
    if ((moves.kinds[i] & MoveFlag.programStart) !== 0) return moves.lines[i];
  }
  return Number.POSITIVE_INFINITY;
}

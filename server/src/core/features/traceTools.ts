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
  readonly chunks: readonly {
    readonly segments: readonly { readonly facts: readonly Fact[]; readonly moves: MoveTable }[];
  }[];
  chunkFirstLine(index: number): number;
}

/** The tools of the file's first program; a tool that comes back has one row, with all its moves. */
export function toolList(source: ToolSource, table: readonly ToolRow[], parts: readonly ToolPart[]): TracedTool[] {
  const tools = new Map<number, TracedTool>();
  const end = firstProgramEnd(source);
  source.chunks.forEach((chunk, index) => {
    for (const fact of chunk.segments.flatMap((segment) => segment.facts)) {
      const line = source.chunkFirstLine(index) + fact.line;
      if (fact.kind !== FactKind.toolChange || tools.has(fact.a) || line >= end) continue;
      const description = table.find((row) => row.number === fact.a)?.description ?? fact.text;
      const part = parts.find((one) => one.number === fact.a) ?? { length: 0, seconds: 0 };
      tools.set(fact.a, { number: fact.a, line, description, length: part.length, seconds: part.seconds });
    }
  });
  return [...tools.values()];
}

/** Line at which the next program of the file begins. */
function firstProgramEnd(source: ToolSource): number {
  for (let index = 0; index < source.chunks.length; index++) {
    for (const { moves } of source.chunks[index].segments) {
      for (let i = 0; i < moves.count; i++) {
        if ((moves.kinds[i] & MoveFlag.programStart) !== 0) return source.chunkFirstLine(index) + moves.lines[i];
      }
    }
  }
  return Number.POSITIVE_INFINITY;
}

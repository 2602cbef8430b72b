/** What is told of tool lengths, by the tool it belongs to: from one tool change to the next, in the order of the run. */
import { type Fact, FactKind, type ProgramFacts } from '../facts.ts';

/** One tool at work; the first session is what runs before any tool change. Lines are those of the program. */
export interface ToolSession {
  readonly calls: Fact[];
  readonly cuts: Fact[];
}

const KINDS = (1 << FactKind.toolChange) | (1 << FactKind.lengthCall) | (1 << FactKind.toolCut);

/** The sessions of a program. A line that runs more often stands in each session that it runs in. */
export const toolSessions = (facts: ProgramFacts): readonly ToolSession[] => {
  let session: ToolSession = { calls: [], cuts: [] };
  const sessions = [session];
  for (const { segment, firstLine } of facts.passages()) {
    if ((segment.factKinds & KINDS) === 0) continue;
    for (const fact of segment.facts) {
      if (fact.kind === FactKind.toolChange) {
        session = { calls: [], cuts: [] };
        sessions.push(session);
      } else if (fact.kind === FactKind.lengthCall) session.calls.push({ ...fact, line: fact.line + firstLine });
      else if (fact.kind === FactKind.toolCut) session.cuts.push({ ...fact, line: fact.line + firstLine });
    }
  }
  return sessions;
};

/** The register that the tool table gives a tool's length; undefined where it gives none. */
export const lengthRegisterOf = (facts: ProgramFacts, tool: number): number | undefined =>
  facts.configuration.tools.find(({ number }) => number === tool)?.lengthOffset;

/** Takes each line once: a loop or a subprogram may meet it more often. */
export const linesOnce = (): ((line: number) => boolean) => {
  const lines = new Set<number>();
  return (line) => {
    const isNew = !lines.has(line);
    lines.add(line);
    return isNew;
  };
};

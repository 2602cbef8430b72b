/** Facts by the tool they belong to: from one tool change to the next. */
import { type Fact, FactKind, type ProgramFacts } from '../facts.ts';

/** Tells the session of a place: how many tool changes stand before it or in its line. */
export const sessionsOf = (facts: ProgramFacts): ((line: number) => number) => {
  const changes = facts.of(FactKind.toolChange).map(({ line }) => line);
  return (line) => {
    let count = 0;
    while (count < changes.length && changes[count] <= line) count++;
    return count;
  };
};

/** The register that holds a tool's length: the tool table's, or the tool's own number. */
export const lengthRegisterOf = (facts: ProgramFacts, tool: number): number | undefined =>
  facts.configuration.tools.find(({ number }) => number === tool)?.lengthOffset;

/** Facts with each line once: a loop may meet it more often. */
export const onceALine = (facts: readonly Fact[]): Fact[] => {
  const lines = new Set<number>();
  return facts.filter(({ line }) => {
    if (lines.has(line)) return false;
    lines.add(line);
    return true;
  });
};

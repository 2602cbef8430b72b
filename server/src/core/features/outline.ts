/** What a program is made of: programs by number, tool sections, and the operations in them. Lines count from 0. */
import type { Analysis } from '../checks/analysis.ts';
import { type Fact, FactKind } from '../checks/facts.ts';
import type { Configuration } from '../machine/configuration.ts';
import { gCodeName } from '../reference/codes.ts';

/** A stretch of the program with a name. */
export interface OutlineItem {
  readonly kind: 'program' | 'tool' | 'operation';
  readonly name: string;
  readonly detail: string;
  readonly line: number;
  /** Columns of the words that begin it. */
  readonly column: number;
  readonly endColumn: number;
  /** Last line that belongs to it. */
  readonly endLine: number;
  readonly children: readonly OutlineItem[];
}

interface OpenItem extends OutlineItem {
  endLine: number;
  readonly children: OpenItem[];
}

/** The outline of an up-to-date program; empty where it has neither program numbers nor tools. */
export function outlineOf(analysis: Analysis, tools: Configuration['tools']): OutlineItem[] {
  const builder = new OutlineBuilder(tools);
  for (const { fact, line } of factsOf(analysis)) builder.take(fact, line);
  return builder.end(analysis.lineCount - 1);
}

/** All facts in order, with their lines in the program. */
function* factsOf(analysis: Analysis): Generator<{ fact: Fact; line: number }> {
  for (let index = 0; index < analysis.chunks.length; index++) {
    const first = analysis.chunkFirstLine(index);
    for (const segment of analysis.chunks[index].segments) {
      for (const fact of segment.facts) yield { fact, line: first + fact.line };
    }
  }
}

/** Puts facts together to an outline. */
class OutlineBuilder {
  private readonly top: OpenItem[] = [];
  private readonly tools: Configuration['tools'];
  private program: OpenItem | undefined;
  private tool: OpenItem | undefined;
  private holes = 0;
  private cycle = '';

  constructor(tools: Configuration['tools']) {
    this.tools = tools;
  }

  take(fact: Fact, line: number): void {
    if (fact.kind === FactKind.programNumber) this.beginProgram(fact, line);
    else if (fact.kind === FactKind.toolChange) this.beginTool(fact, line);
    else if (fact.kind === FactKind.hole) this.addHole(fact, line);
  }

  end(lastLine: number): OutlineItem[] {
    this.close(this.tool, lastLine);
    this.close(this.program, lastLine);
    return this.top;
  }

  private beginProgram(fact: Fact, line: number): void {
    this.close(this.tool, line - 1);
    this.close(this.program, line - 1);
    this.tool = undefined;
    this.cycle = '';
    this.program = open('program', `O${fact.a}`, fact, line);
    this.top.push(this.program);
  }

  private beginTool(fact: Fact, line: number): void {
    this.close(this.tool, line - 1);
    this.cycle = '';
    this.tool = open('tool', this.toolName(fact), fact, line);
    (this.program?.children ?? this.top).push(this.tool);
  }

  /** Holes of one cycle, one behind the other, are one operation. */
  private addHole(fact: Fact, line: number): void {
    const siblings = (this.tool ?? this.program)?.children;
    if (!siblings) return;
    const isSame = fact.text === this.cycle;
    this.holes = isSame ? this.holes + 1 : 1;
    const name = `${operationName(fact.text)}, ${this.holes} ${this.holes === 1 ? 'hole' : 'holes'}`;
    const last = isSame ? siblings.pop() : undefined;
    siblings.push(last ? { ...last, name, endLine: line } : open('operation', name, fact, line));
    this.cycle = fact.text;
  }

  private close(item: OpenItem | undefined, line: number): void {
    if (item) item.endLine = Math.max(item.line, line);
  }

  private toolName(fact: Fact): string {
    const row = this.tools.find((tool) => tool.number === fact.a);
    const description = row?.description ?? (fact.text || (row ? `${row.kind} ${row.thread ?? ''}` : ''));
    return `T${fact.a} ${description.replaceAll(/\s+/g, ' ')}`.trim();
  }
}

const open = (kind: OutlineItem['kind'], name: string, fact: Fact, line: number): OpenItem => ({
  kind,
  name,
  detail: '',
  line,
  column: fact.column,
  endColumn: Math.max(fact.endColumn, fact.column),
  endLine: line,
  children: [],
});

/** `Drill`, `Tap` …: the first words of the cycle's name. `cycle` is written G81 or 810. */
function operationName(cycle: string): string {
  const number = Number(/\d+(?:\.\d+)?/.exec(cycle)?.[0]);
  const name = gCodeName(number < 100 ? Math.round(number * 10) : number)?.split(/[:,]/)[0] ?? cycle;
  return name.charAt(0).toUpperCase() + name.slice(1);
}

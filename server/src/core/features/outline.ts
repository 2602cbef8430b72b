/** What a program is made of: programs by number, tool sections, and the operations in them. Lines count from 0. */
import type { Analysis } from '../checks/analysis.ts';
import { type Fact, FactKind } from '../checks/facts.ts';
import type { Loop } from '../checks/flow/layout.ts';
import type { Configuration } from '../machine/configuration.ts';
import { gCodeName } from '../reference/codes.ts';

/** A stretch of the program with a name. */
export interface OutlineItem {
  readonly kind: 'program' | 'tool' | 'operation' | 'loop' | 'call';
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

/** The outline of an up-to-date program; empty where it has neither program numbers, tools, loops nor calls. */
export function outlineOf(analysis: Analysis, tools: Configuration['tools']): OutlineItem[] {
  const builder = new OutlineBuilder(tools);
  const facts = factsOf(analysis);
  const loops = analysis.runsStraight ? [] : analysis.layout.loops.filter(({ end }) => end >= 0);
  let next = 0;
  for (const { fact, line } of facts) {
    while (next < loops.length && loops[next].head <= line) builder.beginLoop(analysis, loops[next++]);
    builder.take(fact, line);
  }
  while (next < loops.length) builder.beginLoop(analysis, loops[next++]);
  return builder.end(analysis.lineCount - 1);
}

/** Facts that an outline is made of. */
const KINDS = new Set<Fact['kind']>([FactKind.programNumber, FactKind.toolChange, FactKind.hole, FactKind.callTarget]);

/** What an outline is made of, in the order of lines, with their lines in the program. */
function factsOf(analysis: Analysis): { fact: Fact; line: number }[] {
  const found: { fact: Fact; line: number }[] = [];
  for (const { segment, firstLine } of analysis.passages()) {
    for (const fact of segment.facts) if (KINDS.has(fact.kind)) found.push({ fact, line: firstLine + fact.line });
  }
  return analysis.runsStraight ? found : found.sort((a, b) => a.line - b.line);
}

/** Puts facts together to an outline. */
class OutlineBuilder {
  private readonly top: OpenItem[] = [];
  private readonly tools: Configuration['tools'];
  /** Items that are open, each within the one before; loops with the line that ends them. */
  private readonly open: { item: OpenItem; end: number }[] = [];
  private holes = 0;
  private cycle = '';
  private last = '';

  constructor(tools: Configuration['tools']) {
    this.tools = tools;
  }

  take(fact: Fact, line: number): void {
    this.endLoops(line);
    // Further passes tell the same once more; holes are counted.
    const key = `${fact.kind} ${line} ${fact.a}`;
    if (fact.kind !== FactKind.hole && key === this.last) return;
    this.last = key;
    if (fact.kind === FactKind.programNumber) this.beginProgram(fact, line);
    else if (fact.kind === FactKind.toolChange) this.beginTool(fact, line);
    else if (fact.kind === FactKind.hole) this.addHole(fact, line);
    else if (fact.a >= 0 && fact.b === 0) this.add(open('call', `Call of O${fact.a}`, fact, line));
  }

  /** WHILE … END: `loop` with its passes. */
  beginLoop(analysis: Analysis, { head, end }: Loop): void {
    this.endLoops(head);
    const text = analysis.lineText(head);
    const column = text.length - text.trimStart().length;
    const condition = /\[.*\]/.exec(text)?.[0] ?? '';
    const item = open('loop', `Loop ${condition}`.trim(), { column, endColumn: text.trimEnd().length }, head);
    const passes = analysis.timesBackAt(head);
    this.begin({ ...item, detail: `${passes} ${passes === 1 ? 'pass' : 'passes'}` }, end);
  }

  end(lastLine: number): OutlineItem[] {
    this.endLoops(lastLine + 1);
    this.closeAll(lastLine, () => false);
    return this.top;
  }

  private beginProgram(fact: Fact, line: number): void {
    this.closeAll(line - 1, () => false);
    this.begin(open('program', `O${fact.a}`, fact, line), -1);
  }

  private beginTool(fact: Fact, line: number): void {
    this.closeAll(line - 1, ({ kind }) => kind !== 'tool');
    this.begin(open('tool', this.toolName(fact), fact, line), -1);
  }

  /** Holes of one cycle, one behind the other, are one operation. */
  private addHole(fact: Fact, line: number): void {
    if (this.open.length === 0) return;
    const siblings = this.siblings();
    const isSame = fact.text === this.cycle;
    this.holes = isSame ? this.holes + 1 : 1;
    const name = `${operationName(fact.text)}, ${this.holes} ${this.holes === 1 ? 'hole' : 'holes'}`;
    const last = isSame ? siblings.pop() : undefined;
    siblings.push(last ? { ...last, name, endLine: line } : open('operation', name, fact, line));
    this.cycle = fact.text;
  }

  private siblings(): OpenItem[] {
    return this.open[this.open.length - 1]?.item.children ?? this.top;
  }

  private add(item: OpenItem): void {
    this.siblings().push(item);
    this.cycle = '';
  }

  private begin(item: OpenItem, end: number): void {
    this.add(item);
    this.open.push({ item, end });
  }

  /** Closes what is open, from the innermost on, up to an item that is kept. */
  private closeAll(line: number, isKept: (item: OpenItem) => boolean): void {
    for (let top = this.open.pop(); top !== undefined; top = this.open.pop()) {
      if (isKept(top.item)) {
        this.open.push(top);
        return;
      }
      top.item.endLine = Math.max(top.item.line, line);
      this.cycle = '';
    }
  }

  /** Closes the loops that end before a line, with all that began in them. */
  private endLoops(line: number): void {
    for (let i = this.open.length - 1; i >= 0; i--) {
      const { item, end } = this.open[i];
      if (end < 0 || end >= line) continue;
      this.closeAll(end, (other) => other === item);
      this.closeAll(end, (other) => other !== item);
    }
  }

  private toolName(fact: Fact): string {
    const row = this.tools.find((tool) => tool.number === fact.a);
    const description = row?.description ?? (fact.text || (row ? `${row.kind} ${row.thread ?? ''}` : ''));
    return `T${fact.a} ${description.replaceAll(/\s+/g, ' ')}`.trim();
  }
}

const open = (
  kind: OutlineItem['kind'],
  name: string,
  fact: Pick<Fact, 'column' | 'endColumn'>,
  line: number,
): OpenItem => ({
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

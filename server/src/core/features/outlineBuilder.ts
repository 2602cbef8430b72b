/** Puts the parts of an outline together, in the order of lines. */
import type { Analysis } from '../checks/analysis.ts';
import { type Fact, FactKind } from '../checks/facts.ts';
import type { Loop } from '../checks/flow/layout.ts';
import type { Configuration } from '../machine/configuration.ts';
import { nameInside, type RevisableBlock } from './generatedBlocks.ts';
import { type CutOperation, type HoleOperation, Operations } from './operations.ts';
import type { OutlineItem } from './outline.ts';
import type { OutlinePart } from './outlineSource.ts';
import { nameOfProgram, titleAbove } from './outlineTitles.ts';

interface OpenItem extends OutlineItem {
  name: string;
  detail: string;
  endLine: number;
  readonly children: OpenItem[];
}

/** More cuts of one tool than these are told together: who wants to read them reads the program. */
const MOST_CUTS = 200;

/** What an item grew from, to be named once all of it is known. */
type Growing = { readonly item: OpenItem } & (
  | { readonly cut: CutOperation; more: number }
  | { readonly holes: HoleOperation }
);

/** See the top of the file. */
export class OutlineBuilder {
  private readonly top: OpenItem[] = [];
  private readonly analysis: Analysis;
  private readonly tools: Configuration['tools'];
  private readonly operations: Operations;
  /** Items that are open, each within the one before; with the line that ends them, −1 where the next one does. */
  private readonly open: { item: OpenItem; end: number }[] = [];
  private readonly grown: Growing[] = [];
  /** The operation that the next cut or hole may belong to. */
  private growing: Growing | undefined;
  /** Titles are looked for behind this line. */
  private titled = -1;
  private last = '';

  constructor(analysis: Analysis, configuration: Configuration) {
    this.analysis = analysis;
    this.tools = configuration.tools;
    this.operations = new Operations(configuration, analysis.modePool);
  }

  take(part: OutlinePart): void {
    this.endItems(part.line);
    if (part.kind === 'loop') this.beginLoop(part.loop);
    else if (part.kind === 'block') this.beginBlock(part.found);
    else if (part.kind === 'cut') this.addCut(part.cut);
    else this.takeFact(part.fact, part.line, part.modes);
  }

  end(lastLine: number): OutlineItem[] {
    this.endItems(lastLine + 1);
    this.closeAll(lastLine, () => false);
    for (const one of this.grown) {
      if ('cut' in one) one.item.name = this.nameOfCut(one.cut, one.more);
      else one.item.name = this.operations.nameOfHoles(one.holes);
    }
    clip(this.top, lastLine);
    return this.top;
  }

  private takeFact(fact: Fact, line: number, modes: number): void {
    if (fact.kind === FactKind.hole) {
      this.addHole(fact, line, modes);
      return;
    }
    // Further passes tell the same once more.
    const key = `${fact.kind} ${line} ${fact.a}`;
    if (key === this.last) return;
    this.last = key;
    if (fact.kind === FactKind.programNumber) this.beginProgram(fact, line);
    else if (fact.kind === FactKind.toolChange) this.beginTool(fact, line);
    else if (fact.a >= 0 && fact.b === 0) this.addCall(fact, line);
  }

  private beginProgram(fact: Fact, line: number): void {
    this.closeAll(line - 1, () => false);
    const calls = this.analysis.timesCalled(fact.a);
    const called = calls > 0 ? `called ${calls === 1 ? 'once' : `${calls} times`}` : '';
    const detail = [nameOfProgram(this.analysis, line), called].filter((text) => text !== '').join(', ');
    this.begin({ ...open('program', `O${fact.a}`, fact, line), detail }, -1);
  }

  private beginTool(fact: Fact, line: number): void {
    this.closeAll(line - 1, ({ kind }) => kind === 'program' || kind === 'loop');
    this.begin(open('tool', this.toolName(fact), fact, line), -1);
  }

  /** WHILE … END: `loop` with its passes. */
  private beginLoop({ head, end }: Loop): void {
    const condition = /\[.*\]/.exec(this.analysis.lineText(head))?.[0] ?? '';
    const item = open('loop', `Loop ${condition}`.trim(), this.wordsOf(head), head);
    const passes = this.analysis.timesBackAt(head);
    this.begin({ ...item, detail: `${passes} ${passes === 1 ? 'pass' : 'passes'}` }, end);
  }

  /** A generated block stands for all that is cut in it. */
  private beginBlock(found: RevisableBlock): void {
    const { firstLine, lastLine, raw } = found.block;
    const name = [nameInside(found.kind), sizeOf(raw)].filter((text) => text !== '').join(' ');
    this.begin({ ...open('block', name, this.wordsOf(firstLine), firstLine), detail: 'generated block' }, lastLine);
  }

  private addCall(fact: Fact, line: number): void {
    const unit = this.analysis.runsStraight ? undefined : this.analysis.layout.unitOfNumber(fact.a);
    const detail = unit === undefined ? '' : nameOfProgram(this.analysis, unit.firstLine);
    this.add({ ...open('call', `Call of O${fact.a}`, fact, line), detail });
    this.titled = line;
  }

  /** Holes of one cycle, one behind the other, are one operation. */
  private addHole(fact: Fact, line: number, modes: number): void {
    if (this.isInBlock) return;
    const { growing } = this;
    const bottom = this.operations.bottomOf(modes, [fact.a, fact.b, fact.c]);
    if (growing !== undefined && 'holes' in growing && growing.holes.cycle === fact.text) {
      const { holes, item } = growing;
      holes.count++;
      holes.lowest = Math.min(holes.lowest, bottom);
      holes.highest = Math.max(holes.highest, bottom);
      item.endLine = Math.max(item.endLine, line);
      this.titled = item.endLine;
      return;
    }
    const holes = { cycle: fact.text, modes, count: 1, lowest: bottom, highest: bottom };
    const detail = titleAbove(this.analysis, line, this.titled) || this.operations.wordsOfCycle(fact.text);
    this.grow({ item: { ...open('operation', '', fact, line), detail }, holes }, line);
  }

  private addCut(cut: CutOperation): void {
    if (this.isInBlock) return;
    const { growing } = this;
    const isLast = growing !== undefined && 'cut' in growing;
    if (isLast && growing.more > 0) growing.more++;
    const title = isLast && growing.more > 0 ? '' : titleAbove(this.analysis, cut.line, this.titled);
    const siblings = this.siblings().length;
    if (isLast && (growing.more > 0 || (title === '' && this.operations.belongs(growing.cut, cut)))) {
      this.operations.add(growing.cut, cut);
      growing.item.endLine = growing.cut.endLine;
      this.titled = growing.item.endLine;
      return;
    }
    const item = { ...open('operation', '', this.wordsOf(cut.line), cut.line), endLine: cut.endLine, detail: title };
    this.grow({ item, cut, more: siblings >= MOST_CUTS ? 1 : 0 }, cut.endLine);
  }

  private nameOfCut(cut: CutOperation, more: number): string {
    return more > 1 ? `${more} more cuts` : this.operations.nameOfCut(cut);
  }

  private grow(one: Growing, endLine: number): void {
    this.add(one.item);
    this.grown.push(one);
    this.growing = one;
    this.titled = endLine;
  }

  private get isInBlock(): boolean {
    return this.open.some(({ item }) => item.kind === 'block');
  }

  private siblings(): OpenItem[] {
    return this.open[this.open.length - 1]?.item.children ?? this.top;
  }

  private add(item: OpenItem): void {
    this.siblings().push(item);
    this.growing = undefined;
  }

  private begin(item: OpenItem, end: number): void {
    this.add(item);
    this.open.push({ item, end });
    this.titled = item.line;
  }

  /** Closes what is open, from the innermost on, up to an item that is kept. */
  private closeAll(line: number, isKept: (item: OpenItem) => boolean): void {
    for (let top = this.open.pop(); top !== undefined; top = this.open.pop()) {
      if (isKept(top.item)) {
        this.open.push(top);
        return;
      }
      top.item.endLine = Math.max(top.item.line, line);
      this.growing = undefined;
    }
  }

  /** Closes the loops and blocks that end before a line, with all that began in them. */
  private endItems(line: number): void {
    for (let i = this.open.length - 1; i >= 0; i--) {
      const { item, end } = this.open[i];
      if (end < 0 || end >= line) continue;
      this.closeAll(end, (other) => other === item);
      this.closeAll(end, (other) => other !== item);
      this.titled = Math.max(this.titled, end);
    }
  }

  private toolName(fact: Fact): string {
    const row = this.tools.find((tool) => tool.number === fact.a);
    const description = row?.description ?? (fact.text || (row ? `${row.kind} ${row.thread ?? ''}` : ''));
    return `T${fact.a} ${description.replaceAll(/\s+/g, ' ')}`.trim();
  }

  /** Columns of a line's words. */
  private wordsOf(line: number): Pick<Fact, 'column' | 'endColumn'> {
    const text = this.analysis.lineText(line);
    return { column: text.length - text.trimStart().length, endColumn: text.trimEnd().length };
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

/** What a machinist asks first of a block: its thread or its diameter, in mm as the block's remark has it. */
function sizeOf({ thread, bore, boss, diameter }: RevisableBlock['block']['raw']): string {
  if (thread !== undefined) return thread;
  const size = bore ?? boss ?? diameter;
  return size === undefined ? '' : `Ø${size}`;
}

/** An item ends before the next one begins, and within what it belongs to. */
function clip(items: readonly OpenItem[], lastLine: number): void {
  items.forEach((item, index) => {
    const before = index + 1 < items.length ? items[index + 1].line - 1 : lastLine;
    item.endLine = Math.max(item.line, Math.min(item.endLine, before, lastLine));
    clip(item.children, item.endLine);
  });
}

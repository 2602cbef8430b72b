/** Listens to the executor, calls the rules, and collects findings and facts of the segment being executed. */
import { MARKER_SIGN } from '../blocks/markers.ts';
import type { ArcFacts } from '../machine/arcFacts.ts';
import { type Ending, macroCallWord, UNKNOWN_WAY, writtenCall } from '../machine/calls.ts';
import { note, noteFirstCut, settle } from '../machine/carriedOver.ts';
import type { Configuration, TapHolder, ToolRow } from '../machine/configuration.ts';
import { type ExecutionListener, Executor } from '../machine/executor.ts';
import { Given, Mode, type ModePool } from '../machine/modes.ts';
import type { ControlProfile } from '../machine/profile.ts';
import { type Block, BlockKind, letterIndex, WordFlag } from '../syntax/block.ts';
import type { Variables } from '../syntax/variables.ts';
import { type Fact, FactKind } from './facts.ts';
import { callFacts, cutFact, lengthChanged } from './lengthFacts.ts';
import { pointFlags } from './points.ts';
import type { Fix, MessageData, RuleContext } from './rule.ts';
import { RULES } from './rules.ts';
import { LineFlag, type SegmentFinding } from './segment.ts';

const M = letterIndex('M');
const H = letterIndex('H');
const G = letterIndex('G');
const D = letterIndex('D');
const P = letterIndex('P');
const RULE_BY_CODE = new Map(RULES.map((rule, index) => [rule.code, index]));
/** Kinds of flow statements whose condition is not known, with what comes of it. */
const UNKNOWN_CONDITION: Readonly<Record<string, string>> = { while: 'loop-condition', 'if-then': 'then-condition' };
/** A rule's place in the register and one of its functions. */
interface Subscriber {
  readonly index: number;
  readonly once: number;
  readonly hear: (context: RuleContext, arc: ArcFacts) => void;
}

const subscribers = (
  event: 'codes' | 'arc' | 'cycle' | 'rapid' | 'rapidOut' | 'home' | 'cut' | 'firstCut' | 'block',
): Subscriber[] =>
  RULES.flatMap((rule, index) => {
    const hear = rule[event];
    return hear === undefined ? [] : [{ index, once: rule.onceUntil ?? 0, hear }];
  });
const ON_CODES = subscribers('codes');
const ON_ARC = subscribers('arc');
const ON_CYCLE = subscribers('cycle');
const ON_RAPID_OUT = subscribers('rapidOut');
const ON_RAPID = subscribers('rapid');
const ON_HOME = subscribers('home');
const ON_CUT = subscribers('cut');
const ON_FIRST_CUT = subscribers('firstCut');
const ON_BLOCK = subscribers('block');

/** Values of `Judge.idleModes`. */
const IDLE = 1;
const BUSY = 2;
/** Bits of `Given` without which a cut is a first one. */
const CUT_TOLD = Given.cutTold | Given.lengthJudged;

/** Runs the rules over what the executor meets. */
export class Judge implements ExecutionListener, RuleContext {
  readonly executor: Executor;
  readonly profile: ControlProfile;
  readonly assumedHolder: TapHolder['kind'] | undefined;
  readonly configuration: Configuration;
  block!: Block;
  findings: SegmentFinding[] = [];
  facts: Fact[] = [];
  /** Flags of the block just judged. */
  lineFlags = 0;
  private readonly tools: ReadonlyMap<number, ToolRow>;
  private readonly countsIncrements: boolean;
  private readonly onCut: readonly Subscriber[];
  /** By set of modes: whether cuts under it are for any rule; 0 where that was not asked yet. */
  private idleModes = new Uint8Array(256);
  private line = 0;
  private rule = 0;
  private reported = false;
  private hadCodes = false;
  private isReadOnly = false;

  constructor(configuration: Configuration, pool: ModePool, variables: Variables) {
    this.configuration = configuration;
    this.profile = configuration.profile;
    this.assumedHolder = configuration.holder;
    this.countsIncrements = configuration.profile.decimalPoint === 'increment';
    this.onCut = ON_CUT.filter(({ index }) => RULES[index].wanted?.(configuration) ?? true);
    this.tools = new Map(configuration.tools.map((row) => [row.number, row]));
    this.executor = new Executor(configuration, pool, variables, this);
  }

  /** Executes and judges one block; `line` counts in the segment. */
  run(block: Block, line: number): void {
    this.block = block;
    this.line = line;
    this.lineFlags = block.assigns ? LineFlag.assigns : 0;
    this.hadCodes = false;
    const { executor } = this;
    if (block.faults.length > 0) this.readingFaults();
    if (block.programNumber >= 0 || block.kind !== BlockKind.words) this.blockFacts();
    if (executor.modes[Mode.ended] !== 0) this.afterEnd();
    else if (block.kind !== BlockKind.tapeMark) {
      executor.execute(block, line);
      if (executor.once === 100) this.lineFlags |= LineFlag.assigns;
    }
    if (block.remarks.length > 0) this.ownRemarks();
    if (this.countsIncrements) this.lineFlags |= pointFlags(block);
    this.tell(ON_BLOCK);
  }

  /** Reads a block that is never executed: what is wrong in it, and what stands in it. */
  readOnly(block: Block, line: number): void {
    this.block = block;
    this.line = line;
    this.lineFlags = 0;
    this.hadCodes = false;
    this.isReadOnly = true;
    if (block.faults.length > 0) this.readingFaults();
    if (block.programNumber >= 0 || block.kind !== BlockKind.words) this.blockFacts();
    this.isReadOnly = false;
    const called = writtenCall(block);
    if (!Number.isNaN(called)) this.addBlockFact(FactKind.callTarget, called);
    if (block.remarks.length > 0) this.ownRemarks();
    if (this.countsIncrements) this.lineFlags |= pointFlags(block);
  }

  // What rules are given.

  get modes(): Float64Array {
    return this.executor.modes;
  }

  get before(): Float64Array {
    return this.hadCodes ? this.executor.before : this.executor.modes;
  }

  get unit(): number {
    return this.executor.unit;
  }

  get position(): Float64Array {
    return this.executor.position;
  }

  get target(): Float64Array {
    return this.executor.target;
  }

  get motionBefore(): number {
    return this.executor.motionBefore;
  }

  give(bit: number): void {
    this.executor.give(bit);
  }

  takeBack(bits: number): void {
    this.executor.takeBack(bits);
  }

  settle(bits: number): void {
    settle(this.executor, bits);
  }

  noteLeftOver(bits: number): void {
    note(this.executor, bits);
  }

  addBlockFact(kind: Fact['kind'], a = 0, b = 0, text = ''): void {
    const { block } = this;
    const last = block.wordCount - 1;
    const column = last < 0 ? 0 : block.starts[0] - block.start;
    const endColumn = (last < 0 ? block.end : block.ends[last]) - block.start;
    this.facts.push({ kind, line: this.line, column, endColumn, a, b, c: 0, d: 0, e: 0, text });
  }

  string(id: number): string {
    return this.executor.pool.string(id);
  }

  toolRow(tool: number): ToolRow | undefined {
    return this.tools.get(tool);
  }

  report(message: string, start: number, end: number, data: MessageData = {}, fixes: readonly Fix[] = []): void {
    this.reported = true;
    const base = this.block.start;
    this.findings.push({
      rule: this.rule,
      message,
      line: this.line,
      column: start - base,
      endColumn: Math.max(end, start) - base,
      data,
      fixes,
    });
  }

  replace(title: string, safe: boolean, ...changes: { start: number; end: number; text: string }[]): Fix {
    const base = this.block.start;
    const edits = changes.map(({ start, end, text }) => ({
      lineOffset: 0,
      column: start - base,
      endColumn: end - base,
      text,
    }));
    return { title, safe, edits };
  }

  // What the executor meets.

  fault(
    code: string,
    message: string,
    start: number,
    end: number,
    data: Readonly<Record<string, string | number>>,
    word: number,
    arc?: ArcFacts,
  ): void {
    if (code === 'unknown-code' && message === 'unknown-m') {
      this.addFact(FactKind.unknownM, start, end, Number(data.code));
      return;
    }
    if (code === 'parameter-unset') {
      const name = String(data.name);
      if (!this.executor.inMacro || name.startsWith('#<')) this.addFact(FactKind.parameterUnset, start, end, 0, name);
      return;
    }
    const index = RULE_BY_CODE.get(code);
    if (index === undefined) return;
    this.rule = index;
    const rule = RULES[index];
    if (rule.fault === undefined) this.report(message, start, end, data);
    else rule.fault(this, { message, start, end, data, word }, arc);
  }

  codes(): void {
    this.hadCodes = true;
    const { modes, before } = this.executor;
    if (modes[Mode.offset] !== before[Mode.offset] || (modes[Mode.given] & ~before[Mode.given] & Given.offset) !== 0) {
      this.addFact(FactKind.offsetSelected, this.block.start, this.block.end, modes[Mode.offset]);
    }
    if (lengthChanged(this)) this.executor.takeBack(Given.lengthJudged);
    if (modes[Mode.radiusCompensation] !== 40) this.compensationFact();
    this.tell(ON_CODES);
    this.endFacts();
    // Behind the tool change of the same block: a length belongs to the new tool.
    if (this.block.has(H)) this.facts.push(...callFacts(this, this.line));
  }

  arc(arc: ArcFacts): void {
    this.lineFlags |= LineFlag.arc;
    for (const { index, hear } of ON_ARC) {
      this.rule = index;
      hear(this, arc);
    }
  }

  cycle(): void {
    this.tell(ON_CYCLE);
  }

  rapid(): void {
    if (ON_RAPID.length > 0) this.tell(ON_RAPID);
  }

  home(): void {
    if (ON_HOME.length > 0) this.tell(ON_HOME);
  }

  rapidOut(plunged: boolean): void {
    this.lineFlags |= LineFlag.looksBack;
    if (plunged) this.tell(ON_RAPID_OUT);
  }

  hole(x: number, y: number, z: number): void {
    const { modes } = this.executor;
    this.facts.push({
      kind: FactKind.hole,
      line: this.line,
      column: 0,
      endColumn: this.block.end - this.block.start,
      a: x,
      b: y,
      c: z,
      d: modes[Mode.tool],
      e: modes[Mode.offset],
      text: `G${modes[Mode.cycle] / 10}`,
    });
  }

  cut(): void {
    const id = this.executor.modesId();
    const state = id < this.idleModes.length ? this.idleModes[id] : 0;
    if (state === IDLE || (state === 0 && this.becomesIdle(id))) return;
    if ((this.executor.modes[Mode.given] & Given.cutTold) === 0) this.beginCutting();
    const isFirst = (this.executor.modes[Mode.given] & Given.lengthJudged) === 0;
    const { onCut } = this;
    for (let i = 0; i < onCut.length; i++) {
      const { index, once, hear } = onCut[i];
      if ((this.executor.modes[Mode.given] & once) !== 0) continue;
      this.rule = index;
      this.reported = false;
      hear(this, this.executor.arc);
      if (this.reported && once !== 0) this.executor.give(once);
    }
    if (isFirst) this.firstCut();
  }

  /** Looks at a set of modes for the first time: true if no cut under it is for a rule. */
  private becomesIdle(id: number): boolean {
    const given = this.executor.modes[Mode.given];
    const isIdle =
      (given & CUT_TOLD) === CUT_TOLD &&
      this.onCut.every(({ index, once }) => (given & once) !== 0 || (RULES[index].idle?.(this) ?? false));
    if (id >= this.idleModes.length) {
      const longer = new Uint8Array(2 * id);
      longer.set(this.idleModes);
      this.idleModes = longer;
    }
    this.idleModes[id] = isIdle ? IDLE : BUSY;
    return isIdle;
  }

  /** The first cut with a tool length: rules compare what the tools of a program use. */
  private firstCut(): void {
    this.facts.push(cutFact(this, this.line));
    this.executor.give(Given.lengthJudged);
  }

  /** The first cut since the tool change or what else begins anew. */
  private beginCutting(): void {
    this.tell(ON_FIRST_CUT);
    noteFirstCut(this.executor);
  }

  notExecuted(kind: string, start: number, end: number): void {
    this.addFact(FactKind.notExecuted, start, end, 0, kind);
  }

  private tell(listeners: readonly Subscriber[]): void {
    for (let i = 0; i < listeners.length; i++) {
      this.rule = listeners[i].index;
      listeners[i].hear(this, this.executor.arc);
    }
  }

  private readingFaults(): void {
    for (const { code, message, start, end, data } of this.block.faults)
      this.fault(code, message, start, end, data, -1);
  }

  private addFact(kind: Fact['kind'], start: number, end: number, a = 0, text = ''): void {
    const base = this.block.start;
    this.facts.push({
      kind,
      line: this.line,
      column: start - base,
      endColumn: end - base,
      a,
      b: 0,
      c: 0,
      d: 0,
      e: 0,
      text,
    });
  }

  private blockFacts(): void {
    const { block } = this;
    if (block.kind === BlockKind.flow) this.unknownCondition();
    if (block.kind === BlockKind.tapeMark) this.addFact(FactKind.tapeMark, block.start, block.end);
    if (block.programNumber >= 0) this.addFact(FactKind.programNumber, block.start, block.end, block.programNumber);
    const target = block.flow?.target;
    if (block.flow?.kind.endsWith('goto') && target !== undefined && !Number.isNaN(target)) {
      this.addFact(FactKind.jumpTarget, block.flow.start, block.flow.end, target);
    }
  }

  /** A condition or a jump's number that hangs on what only the machine knows; `readOnly` sets none of it right. */
  private unknownCondition(): void {
    const { flow } = this.block;
    if (flow === undefined || this.isReadOnly) return;
    if (this.block.faults.some(({ code }) => code === 'expression-domain')) return;
    const end = flow.start + this.block.source.slice(flow.start, flow.end).trimEnd().length;
    if (Number.isNaN(flow.condition)) {
      const kind = this.setsAlarm() ? 'alarm-condition' : (UNKNOWN_CONDITION[flow.kind] ?? 'condition');
      this.addFact(FactKind.notExecuted, flow.start, end, 0, kind);
      if (flow.kind !== 'if-then') this.noteUnknownWay();
    } else if (flow.kind.endsWith('goto') && flow.condition === 1 && Number.isNaN(flow.target)) {
      this.addFact(FactKind.notExecuted, flow.start, end, 0, 'jump-number');
      this.noteUnknownWay();
    }
  }

  /** True for `IF […] THEN #3000=…`. */
  private setsAlarm(): boolean {
    const { flow, source } = this.block;
    return flow?.kind === 'if-then' && /THEN\s*#\s*3000\s*=/i.test(source.slice(flow.start, flow.end));
  }

  /** From here on it is not known whether the run comes to a block. */
  private noteUnknownWay(): void {
    const { variables } = this.executor;
    this.lineFlags |= LineFlag.assigns;
    if (variables.own(UNKNOWN_WAY) === undefined) variables.set(UNKNOWN_WAY, 1);
  }

  /** Behind the program's end: an O number begins the next program, other words are told once. */
  private afterEnd(): void {
    const { block, executor } = this;
    if (block.programNumber >= 0) {
      executor.beginProgram(this.line);
      executor.execute(block, this.line);
      return;
    }
    if (block.wordCount === 0 || (executor.modes[Mode.given] & Given.afterEndTold) !== 0) return;
    this.addFact(FactKind.afterEnd, block.starts[0], block.ends[block.wordCount - 1]);
    executor.give(Given.afterEndTold);
  }

  /** Tool change, program end, return of a subprogram, call to a number in the program. */
  private endFacts(): void {
    const { block } = this;
    for (let i = 0; i < block.wordCount; i++) {
      if (block.letters[i] !== M || (block.flags[i] & WordFlag.empty) !== 0) continue;
      const code = block.values[i];
      const [start, end] = [block.starts[i], block.ends[i]];
      if (code === 6) {
        const { modes } = this.executor;
        this.addFact(FactKind.toolChange, start, end, modes[Mode.tool], this.string(modes[Mode.toolRemark]));
      } else if (code === 2 || code === 30) this.addFact(FactKind.programEnd, start, end, code);
      else if (code === 99 || code === 17) {
        this.addFact(FactKind.subprogramEnd, start, end, code);
      }
    }
    if (this.executor.ending !== undefined) this.endingFacts(this.executor.ending);
    else if (macroCallWord(block) >= 0) {
      // G66 keeps its arguments among the variables.
      this.lineFlags |= LineFlag.assigns;
      const number = this.executor.modes[Mode.modalMacro];
      if (number >= 0) this.addBlockFact(FactKind.callTarget, number);
    }
  }

  /** Where a call or a return leads to. */
  private endingFacts(ending: Ending): void {
    const { block } = this;
    if (ending.kind === 'alarm') return;
    const number = ending.kind === 'call' ? ending.number : ending.target;
    if (block.wordCount === 0) return;
    if (Number.isNaN(number)) {
      if (ending.kind === 'call') this.unknownCall();
      return;
    }
    const isLabel = ending.kind === 'return' || ending.isSequenceNumber;
    const kind = isLabel ? FactKind.jumpTarget : FactKind.callTarget;
    this.addFact(kind, block.starts[0], block.ends[block.wordCount - 1], number, ending.kind);
  }

  /** A call whose number is not written, or hangs on what only the machine knows. */
  private unknownCall(): void {
    const { block } = this;
    const isWritten = block.letters.subarray(0, block.wordCount).includes(P);
    if (isWritten)
      this.addFact(FactKind.notExecuted, block.starts[0], block.ends[block.wordCount - 1], 0, 'call-number');
    else this.addBlockFact(FactKind.callTarget, -1);
  }

  /** G41 or G42 with the D and the tool it counts with. */
  private compensationFact(): void {
    const { block } = this;
    const { modes } = this.executor;
    for (let i = 0; i < block.wordCount; i++) {
      const code = block.values[i];
      if (block.letters[i] !== G || (code !== 41 && code !== 42)) continue;
      this.facts.push({
        kind: FactKind.radiusCompensation,
        line: this.line,
        column: block.starts[i] - block.start,
        endColumn: block.ends[i] - block.start,
        a: modes[Mode.radiusRegister],
        b: modes[Mode.tool],
        c: block.has(D) ? 1 : 0,
        d: 0,
        e: 0,
        text: `G${code}`,
      });
    }
  }

  /** Remarks that speak to us: what silences rules, and the markers of generated blocks. */
  private ownRemarks(): void {
    const { block } = this;
    for (let i = 0; i + 1 < block.remarks.length; i += 2) {
      const text = block.source.slice(block.remarks[i], block.remarks[i + 1]);
      if (!/blockwright-/i.test(text)) continue;
      const [start, end] = [block.remarks[i], block.remarks[i + 1]];
      if (/blockwright-ignore/i.test(text)) {
        this.addFact(FactKind.ignore, start, end, block.wordCount === 0 ? 1 : 0, text.trim());
      } else if (MARKER_SIGN.test(text)) this.addFact(FactKind.blockMarker, start, end);
    }
  }
}

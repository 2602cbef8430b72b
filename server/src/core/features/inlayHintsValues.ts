/** What variables, expressions and conditions of a stretch come to: its blocks are read in order, as the run read them. */
import type { Analysis } from '../checks/analysis.ts';
import type { Configuration } from '../machine/configuration.ts';
import { Block, WordFlag } from '../syntax/block.ts';
import { BlockReader } from '../syntax/reader.ts';
import { type VariableName, Variables } from '../syntax/variables.ts';
import { shortNumber } from './hoverPlace.ts';
import type { InlayHintText } from './inlayHints.ts';
import { columnBehind, type HintLine, type HintStretch } from './inlayHintsLine.ts';

/** The control's own variables, and those that only the run can tell the number of. */
const NEEDS_RUN = /#\s*(?:\d{4,}|[[#])/;
/** So many blocks of one request are executed again; more would be felt. */
const MOST_RUNS = 15;
const ASSIGNMENT = /#(?:\s*(\d+)|<([^>]*)>)\s*=(?!=)/g;
const PLAIN_NUMBER = /^\s*\[?\s*[-+]?\s*(?:\d+\.?\d*|\.\d+)\s*\]?\s*$/;

/** Blocks of a request that were executed again; behind the most of them nobody knows the variables any more. */
export interface RunBudget {
  runs: number;
}

/** A line's block, and the hints at what it computes. */
interface Reading {
  readonly block: Block;
  readonly hints: readonly InlayHintText[];
}

/** Reads the blocks of one stretch in order. */
export class HintValues {
  private readonly analysis: Analysis;
  private readonly reader: BlockReader;
  private readonly stretch: HintStretch;
  private readonly block = new Block();
  /** As they are before the next line that reads or sets one; known once a line does. */
  private variables: Variables | undefined;
  private readonly budget: RunBudget;

  constructor(analysis: Analysis, configuration: Configuration, stretch: HintStretch, budget: RunBudget) {
    this.analysis = analysis;
    this.budget = budget;
    this.reader = new BlockReader(configuration.profile);
    this.stretch = stretch;
  }

  /** Reads the next line. The block is the same object each time. */
  read(at: HintLine): Reading {
    if (this.budget.runs > MOST_RUNS || !/[#[]/.test(at.code)) {
      this.reader.read(at.text, 0, at.text.length, this.block, undefined);
      return { block: this.block, hints: [] };
    }
    if (NEEDS_RUN.test(at.code)) return this.readByRun(at);
    const variables = this.variablesBefore(at);
    this.reader.read(at.text, 0, at.text.length, this.block, variables);
    return { block: this.block, hints: hintsOf(at, this.block, (name) => variables.get(name)) };
  }

  /** The variables before a line; the run is asked once a stretch. */
  private variablesBefore({ line }: HintLine): Variables {
    if (this.variables === undefined) {
      const isHead = line === this.stretch.firstLine;
      const values = isHead ? this.stretch.segment.entry.variables : this.analysis.stateBefore(line).variables;
      this.variables = new Variables(new Map(values));
    }
    return this.variables;
  }

  private readByRun(at: HintLine): Reading {
    this.variables = undefined;
    if (++this.budget.runs > MOST_RUNS) return this.read(at);
    const block = this.analysis.readBlock(at.line);
    const after = this.analysis.stateAfter(at.line).variables;
    return { block, hints: hintsOf(at, block, (name) => after.get(name)) };
  }
}

function hintsOf(at: HintLine, block: Block, after: (name: VariableName) => number | undefined): InlayHintText[] {
  const { line, code } = at;
  const hints: InlayHintText[] = [];
  for (let i = 0; i < block.wordCount; i++) {
    const value = block.values[i];
    if ((block.flags[i] & WordFlag.computed) === 0 || !Number.isFinite(value)) continue;
    const word = block.wordText(i).replace(/\s+/g, '');
    const column = columnBehind(block, i);
    const number = shortNumber(value, 4);
    const tooltip = `${word} comes to ${word[0].toUpperCase()}${number}.`;
    hints.push({ kind: 'values', line, column, label: `= ${number}`, tooltip });
  }
  const condition = conditionHint(at, block);
  if (condition !== undefined) hints.push(condition);
  // Where a condition does not hold nothing is set.
  const isSet = block.flow === undefined || block.flow.condition === 1;
  return block.assigns && isSet ? [...hints, ...assignmentHints(line, code, block, after)] : hints;
}

function assignmentHints(
  line: number,
  code: string,
  block: Block,
  after: (name: VariableName) => number | undefined,
): InlayHintText[] {
  const hints: InlayHintText[] = [];
  const matches = [...code.matchAll(ASSIGNMENT)];
  matches.forEach((match, index) => {
    const begin = match.index + match[0].length;
    const bounds = [code.length, ...matches.slice(index + 1, index + 2).map((next) => next.index)];
    for (let i = 0; i < block.wordCount; i++) {
      const start = block.starts[i] - block.start;
      if (start >= begin) bounds.push(start);
    }
    const expression = code.slice(begin, Math.min(...bounds)).trimEnd();
    if (expression === '' || PLAIN_NUMBER.test(expression)) return;
    const value = after(match[1] === undefined ? match[2].toLowerCase().replace(/\s+/g, '') : Number(match[1]));
    if (value === undefined || !Number.isFinite(value)) return;
    const name = match[0].replace(/\s*=$/, '').replace(/\s+/g, '');
    const number = shortNumber(value, 4);
    const column = begin + expression.length;
    hints.push({ kind: 'values', line, column, label: `= ${number}`, tooltip: `${name} is set to ${number}.` });
  });
  return hints;
}

/** Behind the condition of IF or WHILE: whether it holds the first time. */
function conditionHint({ line, code }: HintLine, { flow }: Block): InlayHintText | undefined {
  if (flow === undefined || !/IF|WHILE/i.test(code) || Number.isNaN(flow.condition)) return undefined;
  const column = code.lastIndexOf(']', code.search(/GOTO|THEN|DO\s*\d/i)) + 1;
  if (column <= 0) return undefined;
  // Not “holds”: beside a program that is a feed hold.
  const label = flow.condition === 1 ? 'true' : 'not true';
  return { kind: 'values', line, column, label, tooltip: `The first time the condition is ${label}.` };
}

/**
 * A first `blockwright.json`, written from the tools of programs: their numbers, and what the remarks at their tool changes
 * say. Only what a remark says is written; a tool without one has the kind `other`.
 */
import { type Fact, FactKind } from '../checks/facts.ts';
import { Mode, type ModePool } from '../machine/modes.ts';
import { readToolRemark } from '../reference/toolRemark.ts';

/** A tool change of a program. */
export interface ToolChange {
  readonly number: number;
  /** The remark that describes the tool, empty where there is none. */
  readonly remark: string;
  /** The program counts inches there. */
  readonly inInch: boolean;
}

/** What is taken from a program. */
export interface ProgramTools {
  /** Its path from the folder that the file is for, with / between folders. */
  readonly name: string;
  readonly changes: readonly ToolChange[];
}

/** The part of an analysis that is read. */
interface ToolSource {
  readonly modePool: Pick<ModePool, 'at'>;
  passages(): Iterable<{ readonly segment: { readonly facts: readonly Fact[]; readonly modesAfter: Uint32Array } }>;
}

/** The tool changes of a program that was executed, in the order of the run. */
export function toolChangesOf(source: ToolSource): ToolChange[] {
  return Array.from(source.passages()).flatMap(({ segment: { facts, modesAfter } }) =>
    facts
      .filter((fact) => fact.kind === FactKind.toolChange)
      .map((fact) => {
        const modes = modesAfter[fact.line];
        const inInch = modes !== undefined && source.modePool.at(modes, Mode.units) === 20;
        return { number: fact.a, remark: fact.text.trim(), inInch };
      }),
  );
}

/** The file's text, and how many tools stand in it. */
export interface FirstShopFile {
  readonly text: string;
  readonly tools: number;
}

type Row = Readonly<Record<string, string | number>>;

const INCH = 25.4;

/**
 * The text of a first shop's file. A number that is one tool here and another tool there stands in the table as the first
 * program has it, and for the other program in a part of its own.
 */
export function firstShopFile(programs: readonly ProgramTools[]): FirstShopFile {
  const changes = programs.flatMap((program) => program.changes);
  const inInch = changes.length > 0 && changes.every((change) => change.inInch);
  const table = new Map<number, Row>();
  const own = new Map<string, Row[]>();
  let tools = 0;
  for (const { name, changes: ofProgram } of programs) {
    for (const [number, row] of rowsOf(ofProgram, inInch)) {
      const known = table.get(number);
      if (known === undefined || !saysMore(known)) table.set(number, row);
      else if (saysMore(row) && !isSameTool(known, row)) {
        const pattern = patternOf(name);
        const rows = own.get(pattern) ?? [];
        if (rows.some((other) => other.number === number)) continue;
        own.set(pattern, [...rows, row]);
        tools++;
      }
    }
  }
  return { text: textOf(inInch, sorted(table), own), tools: tools + table.size };
}

/** The tools of one program by number; of several remarks for one number the first that says something counts. */
function rowsOf(changes: readonly ToolChange[], inInch: boolean): Map<number, Row> {
  const rows = new Map<number, Row>();
  for (const change of changes) {
    const { number } = change;
    if (!Number.isInteger(number) || number < 0) continue;
    const known = rows.get(number);
    if (known === undefined || !saysMore(known)) rows.set(number, rowOf(change, inInch));
  }
  return rows;
}

function rowOf({ number, remark, inInch }: ToolChange, fileInInch: boolean): Row {
  const tool = remark === '' ? undefined : readToolRemark(remark, inInch);
  if (tool === undefined) return { number, kind: 'other', ...(remark === '' ? {} : { description: remark }) };
  const diameter = tool.diameter === undefined ? undefined : tool.diameter / (fileInInch ? INCH : 1);
  // What an angle in a remark means is sure for drills only: of a chamfer cutter it is the half or the whole.
  const isDrill = tool.kind === 'drill' || tool.kind === 'spot-drill';
  return {
    number,
    kind: tool.kind,
    description: remark,
    ...(diameter === undefined || tool.thread !== undefined ? {} : { diameter: Math.round(diameter * 1e6) / 1e6 }),
    ...(tool.pointAngle === undefined || !isDrill ? {} : { pointAngle: tool.pointAngle }),
    ...(tool.teeth === undefined ? {} : { teeth: tool.teeth }),
    ...(tool.hand === 'left' ? { hand: 'left' } : {}),
    ...(tool.thread === undefined ? {} : { thread: tool.thread.name }),
  };
}

const saysMore = (row: Row): boolean => row.description !== undefined;

/** The same but for how it is called. */
const isSameTool = (a: Row, b: Row): boolean =>
  JSON.stringify({ ...a, description: '' }) === JSON.stringify({ ...b, description: '' });

/** The pattern that fits a file's name: signs that mean something in a pattern stand for any one character. */
const patternOf = (name: string): string => name.replaceAll(/[*?[\]{}\\]/g, '?');

const sorted = (table: ReadonlyMap<number, Row>): Row[] =>
  [...table.values()].sort((a, b) => Number(a.number) - Number(b.number));

function textOf(inInch: boolean, table: readonly Row[], own: ReadonlyMap<string, readonly Row[]>): string {
  const programs = [...own].map(
    ([name, rows]) => `    ${JSON.stringify(name)}: { "tools": ${rowsText(rows, '    ')} }`,
  );
  const parts = [
    '  "version": 1',
    `  "units": ${inInch ? '"inch"' : '"mm"'}`,
    `  "tools": ${rowsText(table, '  ')}`,
    ...(programs.length === 0 ? [] : [`  "programs": {\n${programs.join(',\n')}\n  }`]),
  ];
  return `{\n${parts.join(',\n')}\n}\n`;
}

/** A table with one tool a line. */
function rowsText(rows: readonly Row[], indent: string): string {
  if (rows.length === 0) return '[]';
  const lines = rows.map((row) => {
    const pairs = Object.entries(row).map(([key, value]) => `${JSON.stringify(key)}: ${JSON.stringify(value)}`);
    return `${indent}  { ${pairs.join(', ')} }`;
  });
  return `[\n${lines.join(',\n')}\n${indent}]`;
}

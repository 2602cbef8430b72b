/** Defaults that the program at the cursor and the shop's tool table give: tool, speed, material, top, holder. */
import type { ToolRow } from '../machine/configuration.ts';
import type { BlockKind } from './blockKind.ts';
import type { BlockContext } from './context.ts';
import type { RawValues } from './parameter.ts';
import { short } from './readValues.ts';

const yes = (value: boolean | undefined): string | undefined =>
  value === undefined ? undefined : value ? 'yes' : 'no';
const text = (value: number | undefined): string | undefined => (value === undefined ? undefined : short(value, 6));

/** Highest point of the blank, mm. */
const stockTop = ({ configuration: { stock } }: BlockContext): number | undefined =>
  stock === undefined ? undefined : stock.shape === 'box' ? stock.max[2] : stock.top;

const stockDiameter = ({ configuration: { stock } }: BlockContext): number | undefined =>
  stock?.shape === 'cylinder' ? stock.diameter : undefined;

/** Values as text in mm, by parameter name, as far as something gives them; only of parameters that the kind has. */
export const defaultsFor = (kind: BlockKind, context: BlockContext, raw: RawValues = {}): Record<string, string> => {
  const number = raw['tool-number'] ?? '';
  const called = context.configuration.tools.find((candidate) => String(candidate.number) === number.trim());
  // With a tool number the tool in the spindle says nothing.
  const row = number.trim() === '' ? context.tool?.row : called;
  // An operation that calls its own tool says no more of the one in the spindle either.
  const isHere = !Object.entries(raw).some(([name, value]) => /(?:^|\.)tool-number$/.test(name) && value.trim() !== '');
  const known: Record<string, string | undefined> = {
    ...ofTool(row, isHere ? context.tool?.diameter : called?.diameter, isHere ? context.tool?.kind : called?.kind),
    flutes: text(teethOf(row, isHere ? context.tool : undefined)),
    speed: isHere && context.tool !== undefined ? text(context.entry.speed) : undefined,
    material: context.configuration.material?.name,
    top: text(stockTop(context)),
    stock: text(stockDiameter(context)),
    holder: row?.holder?.kind ?? context.configuration.holder,
  };
  const first = firstOperation(kind, raw);
  for (const operation of operationsOf(kind)) {
    Object.assign(known, ofOperation(operation, operation === first, raw, context));
  }
  const names = new Set(kind.parameters.map(({ name }) => name));
  // A cutting speed that was given goes before a speed that happens to be in force.
  if ((raw['cutting-speed'] ?? '') !== '') known.speed = undefined;
  return Object.fromEntries(
    Object.entries(known).filter((entry): entry is [string, string] => entry[1] !== undefined && names.has(entry[0])),
  );
};

/** Names that stand before a dot in a kind's parameters, of those that call a tool of their own: `drill`, `tap`. */
const operationsOf = ({ parameters }: BlockKind): string[] =>
  parameters.flatMap(({ name }) => (name.endsWith('.tool-number') ? [name.slice(0, -'.tool-number'.length)] : []));

const firstOperation = ({ parameters }: BlockKind, raw: RawValues): string | undefined =>
  (raw.operations ?? parameters.find(({ name }) => name === 'operations')?.fallback)
    ?.trim()
    .toLowerCase()
    .split(/[\s,;]+/)[0];

/** Kinds of tools of an operation; only such a one in the spindle says something about it. */
const KINDS: Readonly<Record<string, ToolRow['kind']>> = {
  drill: 'drill',
  ream: 'reamer',
  tap: 'tap',
  spot: 'spot-drill',
};

/** What each operation's tool gives: its row in the tool table, or for the first one the tool in the spindle. */
const ofOperation = (
  operation: string,
  isFirst: boolean,
  raw: RawValues,
  { configuration, tool }: BlockContext,
): Record<string, string | undefined> => {
  const number = ((raw[`${operation}.tool-number`] ?? '') || (isFirst ? (raw['tool-number'] ?? '') : '')).trim();
  const called = configuration.tools.find((candidate) => String(candidate.number) === number);
  const isInSpindle = isFirst && number === '' && tool !== undefined && tool.kind === KINDS[operation];
  const row = isInSpindle ? tool.row : called;
  const [kind, diameter] = isInSpindle ? [tool.kind, tool.diameter] : [row?.kind, row?.diameter];
  const own: Record<string, string | undefined> = {
    ...ofTool(row, diameter, kind),
    // A spot, a countersink and a bar make holes of another diameter than their own.
    diameter: kind === 'drill' || kind === 'reamer' || operation === 'counterbore' ? text(diameter) : undefined,
    angle: text(row?.pointAngle),
    tip: text(row?.tip),
    holder: operation === 'tap' ? (row?.holder?.kind ?? configuration.holder) : undefined,
  };
  return Object.fromEntries(Object.entries(own).map(([name, value]) => [`${operation}.${name}`, value]));
};

const MILLS: readonly (ToolRow['kind'] | undefined)[] = [
  'end-mill',
  'ball-mill',
  'face-mill',
  'thread-mill',
  'chamfer-mill',
];

/** Teeth by the tool table, else by the remark of the mill in the spindle. */
const teethOf = (row: ToolRow | undefined, tool: BlockContext['tool']): number | undefined =>
  row?.teeth ?? (MILLS.includes(tool?.kind) ? tool?.teeth : undefined);

const ofTool = (
  row: ToolRow | undefined,
  diameter: number | undefined,
  kind: ToolRow['kind'] | undefined,
): Record<string, string | undefined> => ({
  tool: MILLS.includes(kind) ? text(diameter) : undefined,
  'corner-radius': text(row?.cornerRadius),
  'ramp-limit': text(row?.rampLimit),
  'centre-cutting': yes(row?.centreCutting),
  thread: row?.kind === 'tap' || row?.kind === 'thread-mill' ? row.thread : undefined,
  hand: row?.kind === 'tap' && row.hand === 'left' ? 'left' : undefined,
  forming: row?.kind === 'tap' ? yes(row.forming) : undefined,
  'lead-turns': row?.kind === 'tap' ? text(row.leadTurns) : undefined,
  float: text(row?.holder?.float),
  ratio: text(row?.holder?.ratio),
  'self-feed': text(row?.holder?.selfFeed),
  'free-up': text(row?.holder?.freeUp),
  'cutting-length': text(row?.fluteLength),
  'cutting-material': row?.cuttingMaterial,
  // A drill's point is no chamfer.
  'point-angle': row?.kind === 'drill' ? undefined : text(row?.pointAngle),
  tip: text(row?.tip),
});

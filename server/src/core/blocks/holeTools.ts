/** The tools of a chain of operations against what the tool table and the remark at the tool change say of them. */
import type { ToolKind } from '../reference/toolRemark.ts';
import type { OperationName } from './holeParameters.ts';
import { type HoleJob, type HoleWork, rowOf, valuesOf } from './holeWork.ts';
import type { BlockPlan } from './plan.ts';

/** Kinds of tools in the tool table that do an operation. */
const KINDS: Readonly<Record<OperationName, readonly ToolKind[]>> = {
  spot: ['spot-drill', 'centre-drill', 'countersink', 'chamfer-mill', 'drill'],
  drill: ['drill'],
  countersink: ['countersink', 'chamfer-mill', 'spot-drill'],
  counterbore: ['other', 'countersink', 'end-mill'],
  ream: ['reamer'],
  bore: ['boring-bar'],
  tap: ['tap'],
};

/** Operations whose hole is as wide as their tool. */
const AS_WIDE: readonly OperationName[] = ['drill', 'counterbore', 'ream'];

/** What table or remark say of an operation's tool, with words for it and for where they are from. */
interface KnownTool {
  readonly name: string;
  readonly source: string;
  readonly kind: ToolKind;
  readonly diameter: number | undefined;
  readonly fluteLength: number | undefined;
}

const knownTool = (job: HoleJob, operation: OperationName, plan: BlockPlan): KnownTool | undefined => {
  const own = valuesOf(job, operation);
  const row = rowOf(own, job, operation, plan);
  if (row !== undefined) {
    const { number, kind, diameter, fluteLength } = row;
    return { name: `tool ${number}`, source: 'in the tool table', kind, diameter, fluteLength };
  }
  const here = plan.context.tool;
  if (own.has('tool-number') || job.operations[0] !== operation || here?.kind === undefined) return undefined;
  const { kind, diameter } = here;
  return { name: 'the tool in the spindle', source: 'by its remark', kind, diameter, fluteLength: undefined };
};

/** Words where table or remark say another tool than an operation needs. */
export const checkTool = (job: HoleJob, plan: BlockPlan, { operation, width, bottom }: HoleWork): void => {
  const tool = knownTool(job, operation, plan);
  if (tool === undefined) return;
  const { name, source, kind, diameter, fluteLength } = tool;
  const depth = job.levels.top - bottom;
  const first = name[0].toUpperCase() + name.slice(1);
  if (!KINDS[operation].includes(kind)) {
    const found = kind === 'other' ? 'another tool' : `${/^[aeo]/.test(kind) ? 'an' : 'a'} ${kind.replace('-', ' ')}`;
    plan.word(
      `${operation}.tool-number`,
      `${first} is ${found} ${source}, and this is to ${operation}. Check the tool number.`,
    );
    return;
  }
  if (AS_WIDE.includes(operation) && diameter !== undefined && Math.abs(diameter - width) > 0.01) {
    plan.word(
      `${operation}.diameter`,
      `${first} is ${plan.say(diameter)} wide ${source}, and ${plan.say(width)} is given here. Check which is right.`,
    );
  }
  if (fluteLength !== undefined && depth > fluteLength) {
    plan.word(
      `${operation}.tool-number`,
      `The flutes of ${name} are ${plan.say(fluteLength)} long, and its tip goes ${plan.say(depth)} deep: the chips have no way out. Take a longer one.`,
    );
  }
};

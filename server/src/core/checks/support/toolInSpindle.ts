/** What is known of the tool in the spindle, in the order of the language page: tool table, tool remark, operation remark. */
import type { ToolRow } from '../../machine/configuration.ts';
import { Mode } from '../../machine/modes.ts';
import { readToolRemark, type ToolFromRemark, type ToolKind } from '../../reference/toolRemark.ts';
import type { RuleContext } from '../rule.ts';

/** A tool as far as it is known; lengths mm. */
export interface KnownTool {
  readonly kind: ToolKind;
  readonly hand: 'right' | 'left';
  readonly diameter: number | undefined;
  readonly teeth: number | undefined;
  readonly cuttingMaterial: ToolRow['cuttingMaterial'];
  /** Where it is known from, in the words of a message. */
  readonly source: string;
}

/** The remark read last: a tool's cuts ask for the same one again and again. */
let lastRemark = '';
let lastInch = false;
let lastTool: ToolFromRemark | undefined;

const readOnce = (remark: string, inch: boolean): ToolFromRemark | undefined => {
  if (remark !== lastRemark || inch !== lastInch) {
    lastTool = readToolRemark(remark, inch);
    lastRemark = remark;
    lastInch = inch;
  }
  return lastTool;
};

/** The tool in the spindle; undefined where nothing tells of it. */
export const toolInSpindle = (context: RuleContext): KnownTool | undefined => {
  const { modes } = context;
  const number = modes[Mode.tool];
  const row = number >= 0 ? context.toolRow(number) : undefined;
  const toolRemark = context.string(modes[Mode.toolRemark]).trim();
  const remark = toolRemark === '' ? context.string(modes[Mode.operationRemark]).trim() : toolRemark;
  const read = remark === '' ? undefined : readOnce(remark, context.unit !== 1);
  if (row !== undefined) {
    const agrees = read?.kind === row.kind ? read : undefined;
    return {
      kind: row.kind,
      hand: row.hand ?? agrees?.hand ?? 'right',
      diameter: row.diameter ?? agrees?.diameter,
      teeth: row.teeth ?? agrees?.teeth,
      cuttingMaterial: row.cuttingMaterial,
      source: `tool ${number} in the tool table`,
    };
  }
  if (read === undefined) return undefined;
  const { kind, hand, diameter, teeth } = read;
  return { kind, hand, diameter, teeth, cuttingMaterial: undefined, source: `remark ${remark}` };
};

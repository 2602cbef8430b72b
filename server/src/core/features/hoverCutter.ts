/** The cutter in the spindle as far as tool table and remark tell. Lengths mm, angles degrees. */
import type { Configuration } from '../machine/configuration.ts';
import { Mode, type ModePool } from '../machine/modes.ts';
import { readToolRemark, type ToolKind } from '../reference/toolRemark.ts';

/** See the top of the file. */
export interface Cutter {
  readonly kind: ToolKind;
  readonly diameter: number | undefined;
  readonly teeth: number | undefined;
  readonly pointAngle: number | undefined;
  readonly cutting: 'hss' | 'carbide';
}

/** The cutter under a set of modes (by `Mode`); undefined where nothing tells what it is. A drill has two teeth. */
export const cutterUnder = (
  { tools }: Configuration,
  pool: Pick<ModePool, 'string'>,
  modes: Float64Array,
): Cutter | undefined => {
  const row = tools.find(({ number }) => number === modes[Mode.tool]);
  const remark = pool.string(modes[Mode.toolRemark]);
  const read = remark === '' ? undefined : readToolRemark(remark, modes[Mode.units] === 20);
  const kind = row?.kind ?? read?.kind;
  if (kind === undefined) return undefined;
  const agrees = read?.kind === kind ? read : undefined;
  return {
    kind,
    diameter: row?.diameter ?? agrees?.diameter ?? agrees?.thread?.diameter,
    teeth: row?.teeth ?? agrees?.teeth ?? (kind === 'drill' ? 2 : undefined),
    pointAngle: row?.pointAngle ?? agrees?.pointAngle,
    cutting: row?.cuttingMaterial ?? 'hss',
  };
};

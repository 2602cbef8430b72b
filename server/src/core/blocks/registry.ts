/** All kinds of blocks, in the order that lists show them. */
import type { BlockKind } from './blockKind.ts';
import { chamfer } from './chamfer.ts';
import { clearTap } from './clearTap.ts';
import { face } from './face.ts';
import { helicalBore } from './helicalBore.ts';
import { helicalBoss } from './helicalBoss.ts';
import { holes } from './holes.ts';
import { programEnd } from './programEnd.ts';
import { programStart } from './programStart.ts';
import { rectangularPocket } from './rectangularPocket.ts';
import { roundPocket } from './roundPocket.ts';
import { slot } from './slot.ts';
import { subprogram } from './subprogram.ts';
import { tapping } from './tapping.ts';
import { threadMill } from './threadMill.ts';
import { toolSection } from './toolSection.ts';

export const BLOCKS: readonly BlockKind[] = [
  tapping,
  holes,
  helicalBore,
  helicalBoss,
  clearTap,
  threadMill,
  roundPocket,
  rectangularPocket,
  slot,
  face,
  chamfer,
  programStart,
  toolSection,
  programEnd,
  subprogram,
];

/** The kind of block with a name. */
export const blockByName = (name: string): BlockKind | undefined => BLOCKS.find((kind) => kind.name === name);

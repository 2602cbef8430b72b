/** A generated block made once more from what its own remarks say. */
import type { BlockContext } from '../../server/src/core/blocks/context.ts';
import { generateBlock } from '../../server/src/core/blocks/generate.ts';
import { readMarkers } from '../../server/src/core/blocks/markers.ts';
import { blockByName } from '../../server/src/core/blocks/registry.ts';

/** The lines that the values in a block's remarks give. @throws where they cannot be read, or give no block */
export const revised = (lines: readonly string[], context: BlockContext): readonly string[] => {
  const { blocks, broken } = readMarkers(lines.map((text, line) => ({ line, text })));
  const kind = blockByName(blocks[0]?.name ?? '');
  if (kind === undefined || broken.length > 0) throw new Error(`Not to be read: ${lines[0]}`);
  const { lines: again, problems } = generateBlock(kind, blocks[0].raw, context, { withoutDefaults: true });
  if (again === undefined) throw new Error(problems.map(({ message }) => message).join(' | '));
  return again;
};

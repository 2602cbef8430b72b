/** The generated blocks of a program as an editor shows them: where they stand, what they are called, a hand in them. */
import type { BlockKind } from '../blocks/blockKind.ts';
import { contextAt } from '../blocks/context.ts';
import { type GenerationResult, generateBlock } from '../blocks/generate.ts';
import type { GeneratedBlock } from '../blocks/markers.ts';
import { blockByName } from '../blocks/registry.ts';
import type { Analysis } from '../checks/analysis.ts';
import { type Edited, editedByHand, generatedBlocks } from '../checks/support/generatedBlocks.ts';
import type { Configuration } from '../machine/configuration.ts';

/** A generated block of a kind that is known. */
export interface RevisableBlock {
  readonly block: GeneratedBlock;
  readonly kind: BlockKind;
  /** What was changed by hand since it was written. */
  readonly edited: Edited;
}

/** All blocks of a program that can be revised, in their order. Parts of a program carry no remarks and are none. */
export const revisableBlocks = (analysis: Analysis): RevisableBlock[] =>
  generatedBlocks(analysis.programFacts()).blocks.flatMap((block) => revisable(analysis, block));

/** The one that has a line between its remarks, or on one of them. */
export const revisableBlockAt = (analysis: Analysis, line: number): RevisableBlock | undefined => {
  const { blocks } = generatedBlocks(analysis.programFacts());
  const found = blocks.find(({ firstLine, lastLine }) => firstLine <= line && line <= lastLine);
  return found === undefined ? undefined : revisable(analysis, found)[0];
};

const revisable = (analysis: Analysis, block: GeneratedBlock): RevisableBlock[] => {
  const kind = blockByName(block.name);
  if (kind === undefined) return [];
  // Without its check value nobody knows: it counts as changed, so that nothing is replaced unsaid.
  const edited = block.body === '' ? 'body' : editedByHand((line) => analysis.lineText(line), block);
  return [{ block, kind, edited }];
};

/** "helical bore", as it stands inside a sentence. */
export const nameInside = ({ title }: Pick<BlockKind, 'title'>): string => `${title[0].toLowerCase()}${title.slice(1)}`;

/** A block made again from its own values where it stands; its problems where that does not work any more. */
export const madeAgain = (
  analysis: Analysis,
  configuration: Configuration,
  { kind, block: { firstLine, lastLine, raw } }: RevisableBlock,
): GenerationResult => {
  const context = contextAt(analysis, firstLine, configuration, lastLine - firstLine + 1);
  return generateBlock(kind, raw, context, { withoutDefaults: true });
};

import { dropMarker, editedByHand, generatedBlocks, markerPlace } from '../support/generatedBlocks.ts';
import { defineRule } from '../support/gradedRule.ts';

/** A generated block that somebody changed by hand. */
export const generatedBlockEdited = defineRule({
  code: 'generated-block-edited',
  severity: 'hint',
  reason: 'What was changed by hand in a generated block is lost when the block is generated again.',
  messages: {
    body: 'The blocks under this remark were changed by hand and are no longer what its values give. Drop the marker to keep them, or generate the block again.',
    values:
      'The values in this remark were changed by hand, and the blocks under it are still those of the old ones. Generate the block again, or put the old values back.',
    both: 'The values in this remark and the blocks under it were both changed by hand. Drop the marker to keep the blocks, or generate them again from the values.',
  },
  program(facts, report) {
    for (const block of generatedBlocks(facts).blocks) {
      const edited = editedByHand((line) => facts.lineText(line), block);
      if (edited === undefined) continue;
      const { column, endColumn } = markerPlace(facts.lineText(block.firstLine));
      report(edited, block.firstLine, column, endColumn, {}, [dropMarker(facts, block)]);
    }
  },
});

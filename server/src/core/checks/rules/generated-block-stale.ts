import type { Passage } from '../facts.ts';
import { generatedBlocks, markerPlace } from '../support/generatedBlocks.ts';
import { defineRule } from '../support/gradedRule.ts';
import { differencesOf } from '../support/staleBlock.ts';

/** A generated block that was made for another tool, thread, holder or blank than there is now. */
export const generatedBlockStale = defineRule({
  code: 'generated-block-stale',
  severity: 'warning',
  reason:
    'A path made for another cutter leaves a wrong size, and feeds made for another tap or holder tear the thread.',
  messages: {
    'tool-size':
      'This block was made for {what} of {was}, and {where} has {is}. Revise the block, or call the tool it was made for.',
    'given-size':
      'This block was made for {what} of {was}, and {where} has {is}. Revise the block, or put the value right in blockwright.json.',
    thread: 'This block was made for {was}, and {where} is {is}. Revise the block, or call the right tool.',
    hand: 'This block was made for a {was}-hand tap, and {where} is a {is}-hand one. Revise the block, or call the right tool.',
    holder: 'This block was made for {was}, and {where} has {is}. Revise the block for that holder.',
    ratio:
      'This block was made for a head that backs out at {was} times the speed, and that of {where} has {is}. Revise the block, or put its ratio right.',
  },
  program(facts, report) {
    const { blocks } = generatedBlocks(facts);
    if (blocks.length === 0) return;
    const passages = [...facts.passages()];
    for (const block of blocks) {
      const { column, endColumn } = markerPlace(facts.lineText(block.firstLine));
      for (const { message, data } of differencesOf(block, facts, modesAt(passages, block.firstLine))) {
        report(message, block.firstLine, column, endColumn, data);
      }
    }
  },
});

/** The set of modes behind a line when the run first comes through; undefined where it never does. */
const modesAt = (passages: readonly Passage[], line: number): number | undefined => {
  for (const { segment, firstLine } of passages) {
    if (segment.pass !== 1 || line < firstLine || line >= firstLine + segment.blockCount) continue;
    return segment.modesAfter[line - firstLine];
  }
  return undefined;
};

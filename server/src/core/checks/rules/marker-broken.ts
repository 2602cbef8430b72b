import type { BrokenMarker } from '../../blocks/markers.ts';
import { dropRemarks, generatedBlocks, markerPlace } from '../support/generatedBlocks.ts';
import { defineRule } from '../support/gradedRule.ts';

/** A remark of a generated block that lost its partner, or that cannot be read any more. */
export const markerBroken = defineRule({
  code: 'marker-broken',
  severity: 'warning',
  reason: 'Without both its remarks whole, a generated block can neither be revised nor be checked for changes.',
  messages: {
    'no-end':
      'This remark opens a generated block and no remark closes it. Put the closing one back, or take this one out if the block is to be as it is.',
    'no-start':
      'This remark belongs to a generated block, and none is open here. Put the opening one back, or take this one out.',
    'other-name':
      'This remark closes a block {name}, and the one that is open is another. Put the right remark back, or take both out.',
    unreadable:
      'The values in this remark cannot be read, so the block cannot be revised. Write each as NAME=VALUE, or take the remark out.',
    'no-check':
      'This remark has lost its check values BODY and FOR, so changes by hand in the block are not seen. Revise the block to have them written anew.',
  },
  program(facts, report) {
    const { blocks, broken } = generatedBlocks(facts);
    for (const { line, why, name } of broken) {
      const { column, endColumn } = markerPlace(facts.lineText(line));
      const fix = dropRemarks(
        facts,
        'Take this remark out',
        line,
        withFollowing((at) => facts.lineText(at), line, why),
      );
      report(why, line, column, endColumn, { name: name.toUpperCase() }, why === 'unreadable' ? [] : [fix]);
    }
    for (const { lastLine, body, parameters } of blocks) {
      if (body !== '' && parameters !== '') continue;
      const { column, endColumn } = markerPlace(facts.lineText(lastLine));
      report('no-check', lastLine, column, endColumn);
    }
  },
});

/** An opening remark goes with the remarks that carry on its values. */
const withFollowing = (lineText: (line: number) => string, line: number, why: BrokenMarker['why']): number[] => {
  const lines = [line];
  if (why !== 'no-end') return lines;
  while (/BLOCKWRIGHT-WITH\b/i.test(lineText(lines[lines.length - 1] + 1))) lines.push(lines[lines.length - 1] + 1);
  return lines;
};

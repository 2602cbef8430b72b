// What is offered while somebody types must never get into the program by itself: Enter ends the block, nothing more.

import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Workbench } from './workbench.ts';

const example = 'first-five-minutes.nc';
/** Blocks whose last word could be another one: short codes, numbers that begin longer ones, words of arcs and cycles. */
const BLOCKS = [
  'G5',
  'G1 X1',
  'G2 X10. Y10. I10. J0.',
  'G83 X5. Z-3. R2. Q1',
  'T1',
  'M8',
  'G8',
  'S100',
  'G1 X10. F1',
  '#1=5',
  'G1 X#1',
  'G0',
  // A negative number is one as well; and words of flow look like the names of blocks that write themselves.
  'G2 X30. Y-10.',
  'G43 Z-1.',
  '#2=-2.5',
  'IF [#1 GT 0] GOTO 10',
  'N10 WHILE [#1 LT 0] DO1',
  '#1=#1+1',
  'END1',
  'N15 WHILE [#1 LT 2] DO1',
  '#1=#1+1',
  'N16 END1',
  'GOTO 20',
  'N20',
];

describe('a machinist types blocks', () => {
  let workbench: Workbench;

  beforeAll(async () => {
    workbench = await Workbench.open();
    await workbench.openFile(example);
  });

  afterAll(() => workbench?.close());

  it('gets what was typed, whatever was offered meanwhile', async () => {
    const { keyboard } = workbench.page;
    const before = (await workbench.onDisk(example)).split(/\r?\n/);
    const line = before.findIndex((text) => text.startsWith('M9')) + 1;
    await workbench.goTo(line, 1);
    await keyboard.press('End');
    await keyboard.press('Enter');
    for (const block of BLOCKS) {
      // As fast as people type, with a pause behind the last word, so that the list has time to come.
      await keyboard.type(block, { delay: 60 });
      await workbench.page.waitForTimeout(700);
      await keyboard.press('Enter');
    }
    await workbench.save();
    const after = async () => (await workbench.onDisk(example)).split(/\r?\n/).slice(line, line + BLOCKS.length);
    await expect.poll(after, { timeout: 30_000 }).toEqual(BLOCKS);
  });

  it('sees the words of a cycle beside its code, and takes a word by Tab', async () => {
    const { page } = workbench;
    await page.keyboard.type('G83 ', { delay: 60 });
    await workbench.waitForText('.parameter-hints-widget', /G83 X Y Z R Q/);
    await page.keyboard.type('X5. Z', { delay: 60 });
    await workbench.waitForText('.suggest-widget .monaco-list-row', /as in G83/);
    await workbench.screenshot('typing-cycle');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await workbench.save();
    await expect.poll(() => workbench.onDisk(example), { timeout: 30_000 }).toMatch(/^G83 X5\. Z-3\. R2\. Q1\.$/m);
  });
});

/** A cylindrical thread, inside or outside, cut by a thread mill that goes round and along at once. */
import type { BlockKind } from './blockKind.ts';
import { CENTRE_PARAMETERS, CLEARANCE, choice, number, RETRACT, SPEED_AND_FEED, TOP } from './commonParameters.ts';
import { planThreadMill } from './threadMillPlan.ts';
import { HAND, HOLE, THREAD } from './threadParameters.ts';

export const threadMill: BlockKind = {
  name: 'thread-mill',
  title: 'Thread mill',
  summary: 'Mills a cylindrical thread, inside or outside, with a cutter of one form or of many.',
  prefix: 'threadmill',
  parameters: [
    THREAD,
    HAND,
    {
      ...choice('side', 'Side', 'Inside a bored hole, or outside round a turned blank.', [
        ['internal', 'Internal'],
        ['external', 'External'],
      ]),
      group: 'Thread',
    },
    number(
      'depth',
      'Thread',
      'mm',
      'Depth of the thread below the top: the cutter’s end comes there, and up to a quarter of the pitch deeper as it leads in or out.',
      { needed: true, above: 0, group: 'Thread' },
    ),
    HOLE,
    number(
      'tool',
      'Cutter',
      'mm',
      'Diameter of the cutter over its teeth, as measured; a little less makes the thread deeper.',
      {
        needed: true,
        above: 0,
        group: 'Tool',
      },
    ),
    {
      ...choice(
        'teeth',
        'Teeth',
        'One form, that goes round once a pitch, or many, that cut the length of the cutter in one turn.',
        [
          ['single', 'One form'],
          ['multi', 'Many forms'],
        ],
      ),
      group: 'Tool',
    },
    number('cutting-length', 'Cutting length', 'mm', 'Length of the teeth of a cutter of many forms.', {
      above: 0,
      group: 'Tool',
    }),
    number(
      'flutes',
      'Flutes',
      '',
      'Flutes of the cutter, for the feed a tooth. Left out: as the tool table has it, else 3.',
      { whole: true, least: 1, most: 40, group: 'Tool' },
    ),
    number('passes', 'Radial passes', '', 'Passes from the blank to the full depth of the groove.', {
      whole: true,
      least: 1,
      most: 10,
      fallback: '1',
      group: 'How',
    }),
    {
      ...choice('direction', 'Direction', 'Climb or conventional milling.', [
        ['climb', 'Climb'],
        ['conventional', 'Conventional'],
      ]),
      group: 'How',
    },
    ...SPEED_AND_FEED,
    ...CENTRE_PARAMETERS,
    TOP,
    CLEARANCE,
    RETRACT,
  ],
  plan: planThreadMill,
};

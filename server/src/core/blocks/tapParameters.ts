/** What a tapped thread is given by. */
import { choice, number, yesNo } from './commonParameters.ts';
import type { Parameter } from './parameter.ts';
import { HAND, HOLE, THREAD } from './threadParameters.ts';

const WITH_FLOAT = { name: 'holder', values: ['float'] };
const WITH_HEAD = { name: 'holder', values: ['reversing'] };
const NOT_IN_STEP = { name: 'holder', values: ['float', 'reversing'] };

/** Thread, hole and holder of a tapped thread: what `tapping` and the tap of a row of operations share. */
export const TAP_PARAMETERS: readonly Parameter[] = [
  THREAD,
  HAND,
  number('depth', 'Full thread', 'mm', 'Depth of full thread below the top; the tap’s lead goes deeper by itself.', {
    needed: true,
    above: 0,
    group: 'Thread',
  }),
  HOLE,
  number(
    'lead-turns',
    'Lead of the tap',
    '',
    'Threads of the tap’s lead: 1.5 to 2 bottoming, 3.5 to 5 plug, 3 where it is not known.',
    { least: 0.5, most: 12, fallback: '3', group: 'Tool' },
  ),
  yesNo('forming', 'Forming tap', 'The tap presses the thread in and cuts no chip: its drill is wider.'),
  {
    // Without a default: a tap in another holder than the block was written for breaks.
    ...choice(
      'holder',
      'Holder',
      'What the tap is held in, for it breaks in another: synchronised (rigid), float or reversing (a self-reversing head); taken from the tool table where it says.',
      [
        ['synchronised', 'Synchronised: the spindle keeps step'],
        ['float', 'Float: gives along its axis'],
        ['reversing', 'Self-reversing head'],
      ],
      '',
    ),
    needed: true,
  },
  {
    ...choice('feed-per', 'Feed per', 'F as feed a minute (G94), or a turn (G95), which is the pitch itself.', [
      ['minute', 'Minute (G94)'],
      ['turn', 'Turn (G95)'],
    ]),
    group: 'How',
    onlyWith: { name: 'holder', values: ['synchronised'] },
  },
  number(
    'infeed-percent',
    'Feed in',
    '%',
    'Share of speed x pitch that is fed in: 95 to 100 with a float, 100 or a little less with a self-reversing head.',
    { least: 50, most: 100, fallback: '100', group: 'How', onlyWith: NOT_IN_STEP },
  ),
  number('float', 'Float', 'mm', 'Stroke that the holder gives outwards, as its maker says.', {
    above: 0,
    group: 'Tool',
    onlyWith: WITH_FLOAT,
  }),
  number(
    'ratio',
    'Ratio back',
    '',
    'How many times faster the self-reversing head turns back, as its nameplate says.',
    {
      least: 1,
      most: 4,
      group: 'Tool',
      onlyWith: WITH_HEAD,
    },
  ),
  number(
    'self-feed',
    'Self-feed',
    'mm',
    'How far the tap in a self-reversing head runs on by itself at the bottom, as its maker says.',
    { least: 0, group: 'Tool', onlyWith: WITH_HEAD },
  ),
  number(
    'free-up',
    'Further out',
    'mm',
    'How much further out the self-reversing head has to go until the tap is free.',
    {
      least: 0,
      group: 'Tool',
      onlyWith: WITH_HEAD,
    },
  ),
];

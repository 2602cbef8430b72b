/**
 * Plain forms with tab stops, for editors without the form of a generated block and for what is quicker by hand. They
 * compute nothing: each number is to be looked at. `snippets/cnc-program.json` holds the same list in millimetres.
 * Forms and numbers: common practice, no source.
 */
import type { ControlProfile } from '../machine/profile.ts';
import { type Snippet, TabStops } from './snippetForm.ts';
import { SHAPES } from './snippetShapes.ts';

/** A half circle from the axis to the wall, a turn of the thread, a half circle back: P/4 of it on each half circle. */
const threadTurn = (write: TabStops): string[] => {
  const half = (): string => write.length(6, 1.5);
  return [
    `G0 X${write.length(1, 0)} Y${write.length(2, 0)}`,
    `G0 Z${write.length(3, 2)}`,
    `G0 Z-${write.length(4, 10)}`,
    `G91 G3 X${write.length(5, 3)} Y0. Z${write.length(7, 0.375)} I${half()} J0. F${write.feed(9, 60)}`,
    `G3 X0. Y0. Z${write.length(8, 1.5)} I-${write.length(5, 3)} J0.`,
    `G3 X-${write.length(5, 3)} Y0. Z${write.length(7, 0.375)} I-${half()} J0.`,
    'G90',
    `G0 Z${write.length(10, 10)}`,
    '$0',
  ];
};

const PARTS: readonly Snippet[] = [
  {
    prefix: 'start-plain',
    name: 'Program start (plain)',
    description: 'Title and a safe start block.',
    block: 'start',
    lines: (write) => [
      `( ${write.stop(1, 'PART')} )`,
      write.stop(2, write.inch ? 'G20' : 'G21'),
      'G17 G40 G49 G80 G90 G94 G98',
      write.stop(3, 'G54'),
      '$0',
    ],
  },
  {
    prefix: 'tool-plain',
    name: 'Tool section (plain)',
    description: 'Home, tool change, speed, first place, length, coolant.',
    block: 'tool-section',
    lines: (write) => [
      'G91 G28 Z0.',
      'G90',
      `T${write.stop(1, '1')} M6`,
      `( ${write.stop(2, 'END MILL D10')} )`,
      `S${write.stop(3, '1000')} M3`,
      `G0 ${write.stop(4, 'G54')} X${write.length(5, 0)} Y${write.length(6, 0)}`,
      `G43 Z${write.length(7, 30)} H${write.stop(1, '1')}`,
      'M8',
      '$0',
    ],
  },
  {
    prefix: 'end-plain',
    name: 'Program end (plain)',
    description: 'Coolant and spindle off, Z home first, end.',
    block: 'end',
    lines: () => ['M9', 'M5', 'G91 G28 Z0.', 'G90', 'M30', '$0'],
  },
  {
    prefix: 'subprogram-plain',
    name: 'Subprogram (plain)',
    description: 'To stand behind the program’s end; called by M98 P and its number.',
    block: 'subprogram',
    needsFlow: true,
    lines: (write) => [`O${write.stop(1, '1001')}`, `( ${write.stop(2, 'WHAT IT DOES')} )`, 'G90', '$0', 'M99'],
  },
  {
    prefix: 'call',
    name: 'Call of a subprogram',
    description: 'Runs the subprogram with this number once.',
    needsFlow: true,
    lines: (write) => [`M98 P${write.stop(1, '1001')}`, '$0'],
  },
  {
    prefix: 'loop',
    name: 'Loop that counts',
    description: 'Runs what stands inside as often as the second number says.',
    needsFlow: true,
    lines: (write) => [
      `#${write.stop(1, '100')}=0`,
      `WHILE [#${write.stop(1, '100')} LT ${write.stop(2, '3')}] DO1`,
      '$0',
      `#${write.stop(1, '100')}=#${write.stop(1, '100')}+1`,
      'END1',
    ],
  },
];

/** The first two lines of a hole: over it, and down to the clearance. */
const overHole = (write: TabStops, speed: string): string[] => [`S${write.stop(1, speed)} M3`, placeOf(write)];
const placeOf = (write: TabStops): string => `G0 X${write.length(2, 0)} Y${write.length(3, 0)}`;

const HOLES: readonly Snippet[] = [
  {
    prefix: 'drill',
    name: 'Drilling, three holes',
    description: 'G81 with three places; add or take away lines of X and Y before G80.',
    lines: (write) => [
      `G98 G81 X${write.length(1, 0)} Y${write.length(2, 0)} Z-${write.length(3, 10)} R${write.length(4, 2)} F${write.feed(5, 150)}`,
      `X${write.length(6, 20)} Y${write.length(7, 0)}`,
      `X${write.length(8, 40)} Y${write.length(9, 0)}`,
      'G80',
      '$0',
    ],
  },
  {
    prefix: 'peck',
    name: 'Peck drilling, three holes',
    description: 'G83 with three places: Q is the depth of a peck.',
    lines: (write) => [
      `G98 G83 X${write.length(1, 0)} Y${write.length(2, 0)} Z-${write.length(3, 30)} R${write.length(4, 2)} Q${write.length(5, 5)} F${write.feed(6, 150)}`,
      `X${write.length(7, 20)} Y${write.length(8, 0)}`,
      `X${write.length(9, 40)} Y${write.length(10, 0)}`,
      'G80',
      '$0',
    ],
  },
  {
    prefix: 'circle',
    name: 'Six holes on a circle about X0 Y0',
    description: 'G81 with the radius, half of it, and 0.866 of it.',
    lines: (write) => {
      const [whole, half, height] = [
        () => write.length(1, 32),
        () => write.length(2, 16),
        () => write.length(3, 27.713),
      ];
      return [
        `G98 G81 X${whole()} Y0. Z-${write.length(4, 10)} R${write.length(5, 2)} F${write.feed(6, 150)}`,
        `X${half()} Y${height()}`,
        `X-${half()} Y${height()}`,
        `X-${whole()} Y0.`,
        `X-${half()} Y-${height()}`,
        `X${half()} Y-${height()}`,
        'G80',
        '$0',
      ];
    },
  },
  {
    prefix: 'circle-loop',
    name: 'Holes on a circle about X0 Y0, by a loop',
    description: 'Radius, number of holes and angle of the first; uses the variables 100 to 104.',
    needsFlow: true,
    lines: (write) => [
      `#100=${write.length(1, 32)} ( RADIUS )`,
      `#101=${write.stop(2, '6')} ( HOLES )`,
      `#102=${write.stop(3, '0.')} ( FIRST ANGLE )`,
      '#103=0 ( HOLE )',
      'WHILE [#103 LT #101] DO1',
      '#104=#102+#103*360./#101',
      `G98 G81 X[#100*COS[#104]] Y[#100*SIN[#104]] Z-${write.length(4, 10)} R${write.length(5, 2)} F${write.feed(6, 150)}`,
      '#103=#103+1',
      'END1',
      'G80',
      '$0',
    ],
  },
];

const THREADS_AND_TURNS: readonly Snippet[] = [
  {
    prefix: 'tapping-synchronised-plain',
    name: 'Tapping, synchronised (plain)',
    description:
      'F is pitch times speed. Where the control needs no M code before G84, write S and M3 in place of M5 and that code.',
    block: 'tapping',
    lines: (write) => [
      // With a code that prepares it, the cycle starts the spindle.
      ...(write.tappingCode < 0
        ? overHole(write, '500')
        : ['M5', placeOf(write), `M${write.tappingCode} S${write.stop(1, '500')}`]),
      `G98 G84 X${write.length(2, 0)} Y${write.length(3, 0)} Z-${write.length(4, 15)} R${write.length(5, 5)} F${write.feed(6, 500)}`,
      'G80',
      '$0',
    ],
  },
  {
    prefix: 'tapping-float-plain',
    name: 'Tapping, axial float (plain)',
    description: 'F is pitch times speed, or up to five hundredths less; the float takes up the rest.',
    block: 'tapping',
    lines: (write) => [
      ...overHole(write, '500'),
      `G98 G84 X${write.length(2, 0)} Y${write.length(3, 0)} Z-${write.length(4, 15)} R${write.length(5, 5)} F${write.feed(6, 495)}`,
      'G80',
      '$0',
    ],
  },
  {
    prefix: 'tapping-reversing-plain',
    name: 'Tapping, self-reversing head (plain)',
    description:
      'In at pitch times speed, at once out at that times the head’s ratio; no cycle, no dwell, no reversing spindle.',
    block: 'tapping',
    lines: (write) => [
      ...overHole(write, '500'),
      `G0 Z${write.length(4, 8)}`,
      `G1 Z-${write.length(5, 15)} F${write.feed(6, 500)}`,
      `G1 Z${write.length(4, 8)} F${write.feed(7, 875)}`,
      `G1 Z${write.length(8, 12)}`,
      '$0',
    ],
  },
  {
    prefix: 'helical-plain',
    name: 'Helical bore, three turns (plain)',
    description:
      'Down a helix in three turns and once round level. The radius is that of the cutter’s centre: half of bore less cutter.',
    block: 'helical-bore',
    lines: (write) => [
      `G0 X${write.length(1, 0)} Y${write.length(2, 0)}`,
      `G0 Z${write.length(3, 2)}`,
      `G1 Z${write.length(4, 0)} F${write.feed(5, 200)}`,
      `G91 G1 X${write.length(6, 4)}`,
      ...[1, 2, 3].map(() => `G3 X0. Y0. Z-${write.length(7, 1)} I-${write.length(6, 4)} J0.`),
      `G3 X0. Y0. I-${write.length(6, 4)} J0.`,
      `G1 X-${write.length(6, 4)}`,
      'G90',
      `G0 Z${write.length(8, 10)}`,
      '$0',
    ],
  },
  {
    prefix: 'threadmill-plain',
    name: 'Thread milling, one turn (plain)',
    description:
      'Inside, right hand, climb, from below upward. Radius of the centre, half of it, a quarter of the pitch, the pitch.',
    block: 'thread-mill',
    lines: threadTurn,
  },
];

/** All snippets, those for a program's parts first. */
export const SNIPPETS: readonly Snippet[] = [...PARTS, ...HOLES, ...THREADS_AND_TURNS, ...SHAPES];

/** The lines of a snippet for a program in millimetres or inches, under a profile. */
export const snippetLines = (
  snippet: Snippet,
  inch: boolean,
  { synchronisedTappingCode }: ControlProfile,
): readonly string[] => snippet.lines(new TabStops(inch, synchronisedTappingCode));

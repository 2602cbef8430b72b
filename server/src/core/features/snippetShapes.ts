/** Plain forms of pockets, slots and other shapes. Forms and numbers: common practice, no source. */
import type { Snippet, TabStops } from './snippetForm.ts';

/** Over the centre, down to the top at feed: the stops 1 to 5. */
const onto = (write: TabStops, feed: number, height = 0): string[] => [
  `G0 X${write.length(1, 0)} Y${write.length(2, 0)}`,
  `G0 Z${write.length(3, 2)}`,
  `G1 Z${height < 0 ? '-' : ''}${write.length(4, Math.abs(height))} F${write.feed(5, feed)}`,
];

/** Round a rectangle counter-clockwise from its lower left corner, which the cutter is brought to first. */
const ring = (write: TabStops, place: number, [x, y]: readonly [number, number]): string[] => [
  `G1 X-${write.length(place, x)} Y-${write.length(place + 1, y)}`,
  `G1 X${write.length(place, x)}`,
  `G1 Y${write.length(place + 1, y)}`,
  `G1 X-${write.length(place, x)}`,
  `G1 Y-${write.length(place + 1, y)}`,
];

/** Pockets, slot, facing, chamfer, boss, broken tap. */
export const SHAPES: readonly Snippet[] = [
  {
    prefix: 'round-plain',
    name: 'Round pocket, two rings (plain)',
    description:
      'Down a helix in three turns, then outwards ring by ring to the wall. Radii are of the cutter’s centre: the last is half of pocket less cutter.',
    block: 'round-pocket',
    lines: (write) => [
      ...onto(write, 200),
      `G91 G1 X${write.length(6, 4)}`,
      ...[1, 2, 3].map(() => `G3 X0. Y0. Z-${write.length(7, 1)} I-${write.length(6, 4)} J0.`),
      `G3 X0. Y0. I-${write.length(6, 4)} J0.`,
      `G1 X${write.length(8, 5.5)}`,
      `G3 X0. Y0. I-${write.length(9, 9.5)} J0.`,
      `G1 X${write.length(8, 5.5)}`,
      `G3 X0. Y0. I-${write.length(10, 15)} J0.`,
      `G1 X-${write.length(10, 15)}`,
      'G90',
      `G0 Z${write.length(11, 10)}`,
      '$0',
    ],
  },
  {
    prefix: 'pocket-plain',
    name: 'Rectangular pocket about X0 Y0, one level (plain)',
    description:
      'Down a ramp along X, then round and round outwards. X and Y of each ring are those of the cutter’s centre: the last are half of length and width less half the cutter.',
    block: 'rectangular-pocket',
    lines: (write) => [
      `G0 X-${write.length(1, 10)} Y0.`,
      `G0 Z${write.length(2, 2)}`,
      `G1 Z${write.length(3, 0)} F${write.feed(4, 200)}`,
      `G1 X${write.length(1, 10)} Z-${write.length(5, 1)}`,
      `G1 X-${write.length(1, 10)}`,
      ...ring(write, 6, [15, 5]),
      ...ring(write, 8, [20, 10]),
      ...ring(write, 10, [25, 15]),
      `G0 Z${write.length(12, 10)}`,
      '$0',
    ],
  },
  {
    prefix: 'slot-plain',
    name: 'Slot as wide as the cutter (plain)',
    description: 'To and fro along X, deeper by a ramp each way, and once level along the bottom.',
    block: 'slot',
    lines: (write) => [
      ...onto(write, 150),
      `G1 X${write.length(6, 40)} Z-${write.length(7, 0.5)}`,
      `G1 X${write.length(1, 0)} Z-${write.length(8, 1)}`,
      `G1 X${write.length(6, 40)}`,
      `G0 Z${write.length(9, 10)}`,
      '$0',
    ],
  },
  {
    prefix: 'face-plain',
    name: 'Facing, three rows (plain)',
    description:
      'Down beside the part, then to and fro along X. Start and end stand clear of it by more than half the cutter.',
    block: 'face',
    lines: (write) => [
      `G0 X-${write.length(1, 30)} Y${write.length(2, 15)}`,
      `G0 Z${write.length(3, 2)}`,
      `G1 Z-${write.length(4, 0.5)} F${write.feed(5, 600)}`,
      `G1 X${write.length(6, 130)}`,
      `G1 Y${write.length(7, 45)}`,
      `G1 X-${write.length(1, 30)}`,
      `G1 Y${write.length(8, 75)}`,
      `G1 X${write.length(6, 130)}`,
      `G0 Z${write.length(9, 10)}`,
      '$0',
    ],
  },
  {
    prefix: 'chamfer-plain',
    name: 'Chamfer round a hole (plain)',
    description: 'Down in the middle, once round, back. The radius is that of the cutter’s centre at the depth given.',
    block: 'chamfer',
    lines: (write) => [
      ...onto(write, 200, -1.5),
      `G91 G1 X${write.length(6, 8)}`,
      `G3 X0. Y0. I-${write.length(6, 8)} J0.`,
      `G1 X-${write.length(6, 8)}`,
      'G90',
      `G0 Z${write.length(7, 10)}`,
      '$0',
    ],
  },
  {
    prefix: 'boss-plain',
    name: 'Helical boss, three turns (plain)',
    description:
      'Round the outside down in three turns, once round level, and away. Starts beside the boss at X of its centre and the radius: half of boss and cutter.',
    block: 'helical-boss',
    lines: (write) => [
      ...onto(write, 200),
      ...[1, 2, 3].map(
        (turn) => `${turn === 1 ? 'G91 ' : ''}G2 X0. Y0. Z-${write.length(6, 1)} I-${write.length(7, 15)} J0.`,
      ),
      `G2 X0. Y0. I-${write.length(7, 15)} J0.`,
      `G1 X${write.length(8, 5)}`,
      'G90',
      `G0 Z${write.length(9, 10)}`,
      '$0',
    ],
  },
  {
    prefix: 'cleartap-plain',
    name: 'Broken tap, one stage, by a loop (plain)',
    description:
      'Turns of a very flat helix in the open hole, from above the fracture on; uses the variable 100. Radius of the centre, lead a turn, number of turns. No flood: blow air.',
    block: 'clear-tap',
    needsFlow: true,
    lines: (write) => [
      'M9',
      ...onto(write, 60, -2),
      `G91 G1 X${write.length(6, 0.7)}`,
      '#100=0',
      `WHILE [#100 LT ${write.stop(7, '33')}] DO1`,
      `G3 X0. Y0. Z-${write.length(8, 0.03)} I-${write.length(6, 0.7)} J0.`,
      '#100=#100+1',
      'END1',
      `G3 X0. Y0. I-${write.length(6, 0.7)} J0.`,
      `G1 X-${write.length(6, 0.7)}`,
      'G90',
      `G0 Z${write.length(9, 10)}`,
      '$0',
    ],
  },
];

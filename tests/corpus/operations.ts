/** Operations for composed programs: each calls its tools, cuts, and takes the tool away. Lengths mm. */
import type { Writer } from './composed.ts';

/** An operation on the plate. */
export type Operation = (writer: Writer) => void;

/** The name of a tool as one hand or another writes it. */
const named = ({ habits, random }: Writer, kind: keyof typeof NAMES, diameter: number): string => {
  const names = NAMES[kind][habits.remarks === 'foreign' ? 'foreign' : 'own'];
  const name = names[Math.floor(random() * names.length)];
  const size = habits.inch ? `${diameter} MM` : `${diameter}`;
  return name.replace('#', size);
};

const NAMES = {
  mill: {
    own: ['END MILL D#', 'END MILL # 4FL', 'ENDMILL #, 4 FLUTES', 'SLOT DRILL #'],
    foreign: ['SCHAFTFRAESER D#', 'FRAISE D#'],
  },
  face: { own: ['FACE MILL D#', 'FACE MILL # 5T', 'SHELL MILL #'], foreign: ['PLANFRAESER D#', 'MESSERKOPF #'] },
  drill: { own: ['DRILL D#', 'DRILL #', 'CARBIDE DRILL D#'], foreign: ['BOHRER D#', 'FORET D#'] },
  spot: { own: ['SPOT DRILL D#', 'SPOT DRILL # 90DEG'], foreign: ['NC-ANBOHRER D#'] },
  sink: { own: ['COUNTERSINK D# 90DEG', 'CSK D#'], foreign: ['KEGELSENKER D#'] },
  reamer: { own: ['REAMER D# H7', 'REAM D#'], foreign: ['REIBAHLE D# H7', 'ALESOIR D#'] },
  chamfer: { own: ['CHAMFER MILL D# 90DEG'], foreign: ['FASENFRAESER D#'] },
} as const;

const TAPS = [
  { name: 'M5', pitch: 0.8, drill: 4.2 },
  { name: 'M6', pitch: 1, drill: 5 },
  { name: 'M8', pitch: 1.25, drill: 6.8 },
  { name: 'M10', pitch: 1.5, drill: 8.5 },
  { name: 'M10X1', pitch: 1, drill: 9 },
  { name: '1/4-20 UNC', pitch: 1.27, drill: 5.1 },
  { name: '5/16-18 UNC', pitch: 25.4 / 18, drill: 6.6 },
] as const;

/** Strips over the top, each way or to and fro. */
const facing: Operation = (writer) => {
  const isBothWays = writer.random() < 0.5;
  writer.remark('FACE THE TOP');
  writer.call(named(writer, 'face', 50), 1400, -35, 15);
  writer.move(0, { Z: 3 });
  writer.move(1, { Z: 0 }, 800);
  [15, 45, 75].forEach((y, i) => {
    const from = isBothWays && i % 2 === 1 ? 155 : -35;
    if (i > 0 && isBothWays) writer.move(0, writer.place(from, y));
    else if (i > 0) {
      writer.move(0, { Z: 5 });
      writer.move(0, writer.place(from, y));
      writer.move(0, { Z: 0 });
    }
    writer.move(1, { X: writer.place(from === -35 ? 155 : -35, y).X }, 700);
  });
  writer.away();
};

/** Round the plate with compensation, in one to three depths, corners rounded 6. */
const contour: Operation = (writer) => {
  const depths = 1 + Math.floor(writer.random() * 3);
  writer.remark('OUTSIDE, CLIMB');
  const tool = writer.call(named(writer, 'mill', 12), 3000, -20, -20);
  const at = (x: number, y: number) => writer.place(x, y);
  for (let depth = 1; depth <= depths; depth++) {
    writer.move(0, at(-20, -20));
    writer.move(0, { Z: 2 });
    writer.move(1, { Z: -4 * depth }, 600);
    writer.block(`G41 D${tool} ${writer.words({ X: at(0, 0).X })} ${writer.feed(650)}`);
    writer.move(1, { Y: at(0, 74).Y });
    writer.move(2, { ...at(6, 80), I: 6, J: 0 });
    writer.move(1, { X: at(114, 80).X });
    writer.move(2, { ...at(120, 74), I: 0, J: -6 });
    writer.move(1, { Y: at(120, 6).Y });
    writer.move(2, { ...at(114, 0), R: 6 });
    writer.move(1, { X: at(6, 0).X });
    writer.move(2, { ...at(0, 6), R: 6 });
    writer.move(1, { Y: at(0, 12).Y });
    writer.block(`G40 ${writer.words({ X: at(-20, 0).X })}`);
    writer.move(0, { Z: 2 });
  }
  writer.away();
};

/** A round pocket: down in a helix, out in circles. */
const roundPocket: Operation = (writer) => {
  const radius = 14 + Math.round(writer.random() * 40) / 10;
  const depth = 4 + Math.floor(writer.random() * 5);
  writer.remark('ROUND POCKET');
  writer.call(named(writer, 'mill', 10), 4000, 60, 40);
  writer.move(0, { Z: 1 });
  writer.move(1, { Z: 0 }, 300);
  writer.move(1, { X: writer.place(64, 40).X }, 600);
  for (let z = 1; z <= depth; z++) writer.move(3, { ...writer.place(64, 40), Z: -z, I: -4, J: 0 }, 450);
  writer.move(3, { ...writer.place(64, 40), I: -4, J: 0 });
  for (let path = 8; path < radius - 5; path += 4) {
    writer.move(1, { X: writer.place(60 + path, 40).X }, 600);
    writer.move(3, { ...writer.place(60 + path, 40), I: -path, J: 0 });
  }
  writer.move(1, { X: writer.place(60 + radius - 5, 40).X });
  writer.move(3, { ...writer.place(60 + radius - 5, 40), I: 5 - radius, J: 0 }, 400);
  writer.move(1, { X: writer.place(60, 40).X });
  writer.away();
};

/** A slot by ramps to and fro, its floor last. */
const slot: Operation = (writer) => {
  const depth = 3 + Math.floor(writer.random() * 4);
  writer.remark('SLOT');
  writer.call(named(writer, 'mill', 8), 4500, 20, 62);
  writer.move(0, { Z: 1 });
  writer.move(1, { Z: 0 }, 250);
  for (let z = 1; z <= depth; z++) writer.move(1, { X: writer.place(z % 2 === 1 ? 50 : 20, 0).X, Z: -z }, 450);
  writer.move(1, { X: writer.place(depth % 2 === 1 ? 20 : 50, 0).X });
  writer.away();
};

const patternOf = ({ random }: Writer): readonly (readonly [number, number])[] => {
  const kind = random();
  if (kind < 0.35)
    return [
      [10, 10],
      [110, 10],
      [110, 70],
      [10, 70],
    ];
  if (kind < 0.7) return Array.from({ length: 6 }, (_, i): [number, number] => [15 + i * 18, 12]);
  return Array.from({ length: 8 }, (_, i): [number, number] => [
    60 + 30 * Math.cos((i * Math.PI) / 4),
    40 + 30 * Math.sin((i * Math.PI) / 4),
  ]);
};

/** One cycle over a pattern. */
const cycle = (writer: Writer, words: string, pattern: readonly (readonly [number, number])[]): void => {
  const [first, ...others] = pattern;
  writer.block(`${words.replace('XY', writer.words(writer.place(...first)))}`, true);
  for (const [x, y] of others) writer.block(writer.words(writer.place(x, y)));
  if (writer.habits.endsCycle === 'G80') writer.block('G80');
};

/** Spotted, drilled, and sometimes countersunk or tapped holes. */
export const holes: Operation = (writer) => {
  const { random } = writer;
  const pattern = patternOf(writer);
  const tap = random() < 0.6 ? TAPS[Math.floor(random() * TAPS.length)] : undefined;
  const drill = tap?.drill ?? 4 + Math.round(random() * 80) / 10;
  const isThrough = random() < 0.5;
  const level = random() < 0.5 ? 'G98' : 'G99';
  const [x, y] = pattern[0];
  writer.call(named(writer, 'spot', 12), 2200, x, y);
  cycle(
    writer,
    `${level} G81 XY ${writer.words({ Z: -Math.min(5.5, drill / 2 + 0.3), R: 2 })} ${writer.feed(220)}`,
    pattern,
  );
  writer.away();
  writer.call(named(writer, 'drill', drill), Math.round(20000 / Math.PI / drill), x, y);
  const depth = isThrough ? 20 + 0.3 * drill + 1 : 17;
  const pecks = random() < 0.6 ? `G${random() < 0.5 ? 83 : 73}` : 'G81';
  const peck = pecks === 'G81' ? '' : ` ${writer.words({ Q: Math.max(2, drill / 2) })}`;
  cycle(writer, `${level} ${pecks} XY ${writer.words({ Z: -depth, R: 2 })}${peck} ${writer.feed(200)}`, pattern);
  writer.away();
  if (random() < 0.4) {
    writer.call(named(writer, 'sink', 20), 600, x, y);
    const wait = random() < 0.5 ? 'G82' : 'G81';
    const words = writer.words({ Z: -(drill / 2 + 0.4), R: 2 });
    cycle(writer, `${level} ${wait} XY ${words}${wait === 'G82' ? ' P0.3' : ''} ${writer.feed(70)}`, pattern);
    writer.away();
  }
  if (tap === undefined) return;
  const speed = 200 + Math.floor(random() * 5) * 50;
  writer.call(
    `${random() < 0.5 ? 'TAP ' : ''}${tap.name}${random() < 0.5 ? '' : ' TAP'}`.replace(
      /^(M\d+|1\/4-20 UNC|5\/16-18 UNC)$/,
      'TAP $1',
    ),
    speed,
    x,
    y,
  );
  const feed = (speed * tap.pitch) / (writer.habits.inch ? 25.4 : 1);
  const bottom = isThrough ? 21 : 17 - 0.31 * drill - 0.1;
  cycle(
    writer,
    `${level} G84 XY ${writer.words({ Z: -bottom, R: 5 })} F${Number(feed.toFixed(3))}`.replace(/F(\d+)$/, 'F$1.'),
    pattern,
  );
  writer.away();
};

/** Two dowel holes, drilled and reamed. */
const boring: Operation = (writer) => {
  const pattern = [
    [25, 30],
    [95, 30],
  ] as const;
  writer.remark('DOWELS');
  writer.call(named(writer, 'drill', 7.8), 1200, 25, 30);
  cycle(writer, `G98 G83 XY ${writer.words({ Z: -24, R: 3, Q: 5 })} ${writer.feed(160)}`, pattern);
  writer.away();
  writer.call(named(writer, 'reamer', 8), 350, 25, 30);
  cycle(writer, `G98 G85 XY ${writer.words({ Z: -21, R: 3 })} ${writer.feed(100)}`, pattern);
  writer.away();
};

/** Breaks two long edges from outside. */
const chamfering: Operation = (writer) => {
  writer.remark('BREAK THE LONG EDGES');
  writer.call(named(writer, 'chamfer', 10), 5000, -10, -1.2);
  writer.move(0, { Z: 2 });
  writer.move(1, { Z: -1.5 }, 600);
  writer.move(1, { X: writer.place(130, 0).X }, 800);
  writer.move(0, { Z: 5 });
  writer.move(0, writer.place(130, 81.2));
  writer.move(1, { Z: -1.5 }, 600);
  writer.move(1, { X: writer.place(-10, 0).X }, 800);
  writer.away();
};

/** All operations in the order of a job. */
export const operations: readonly Operation[] = [facing, contour, roundPocket, slot, holes, boring, chamfering];

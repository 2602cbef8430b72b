/**
 * Right programs with thousands of moves, as a programming system writes them: seeded, always the same for a seed, not
 * stored. Parts and shapes are invented; feeds and speeds are common practice, no source.
 */
import { seeded } from '../bench/program.ts';

/** A generated program and the preset it is for. */
export interface GeneratedProgram {
  readonly name: string;
  readonly profile: 'iso' | 'rs274ngc' | 'iso-macro';
  readonly program: string;
}

/** Text of a coordinate with `places` decimals and no negative zero. */
const fixed = (value: number, places = 3): string => {
  const text = value.toFixed(places);
  return Number(text) === 0 ? text.replace('-', '') : text;
};

/** What a programmer's system writes before and behind the moves of one tool. */
const metricPart = (tool: string, speed: number, moves: readonly string[]): string =>
  [
    '%',
    'O9000',
    'G17 G21 G40 G49 G80 G90 G94',
    `T1 M6 (${tool})`,
    `G0 G54 X0. Y0. S${speed} M3`,
    'G43 H1 Z50. M8',
    ...moves,
    'G0 Z50. M9',
    'M5',
    'G91 G28 Z0.',
    'G90',
    'M30',
    '%',
    '',
  ].join('\n');

/** A dome of radius 60, finished in rows with a ball mill: the ball's centre would run on radius 63. */
const domeRows = (seed: number): string => {
  const random = seeded(seed);
  const step = 0.4 + random() * 0.2;
  const heightAt = (x: number, y: number): number => Math.sqrt(63 * 63 - x * x - y * y) - 63;
  const moves = ['X-25. Y-25.', 'Z5.', `G1 Z${fixed(heightAt(-25, -25))} F400.`, 'F1800.'];
  let direction = 1;
  for (let y = -25; y <= 25; y += 1) {
    const isFirst = y === -25;
    if (!isFirst) moves.push(`Y${fixed(y)} Z${fixed(heightAt(-25 * direction, y))}`);
    for (let along = -25 + step; along < 25; along += step) {
      const x = along * direction;
      moves.push(`X${fixed(x)} Z${fixed(heightAt(x, y))}`);
    }
    moves.push(`X${fixed(25 * direction)} Z${fixed(heightAt(25, y))}`);
    direction = -direction;
  }
  return metricPart('BALL MILL D6 2FL', 9000, moves);
};

/** A core with drafted walls in levels: rounded rectangles, in and out on quarter circles, arcs by I and J. */
const coreLevels = (seed: number): string => {
  const random = seeded(seed);
  const corner = 8 + Math.round(random() * 40) / 10;
  const moves: string[] = [];
  for (let level = 1; level <= 160; level++) {
    const z = -level * 0.15;
    const x = 40 + level * 0.02;
    const y = 25 + level * 0.02;
    const inX = x - corner;
    const inY = y - corner;
    const c = fixed(corner);
    moves.push(
      `G0 X${fixed(x + 6)} Y6.`,
      'Z2.',
      `G1 Z${fixed(z)} F600.`,
      `G3 X${fixed(x)} Y0. I0. J-6. F1400.`,
      `G1 Y${fixed(-inY)}`,
      `G2 X${fixed(inX)} Y${fixed(-y)} I-${c} J0.`,
      `G1 X${fixed(-inX)}`,
      `G2 X${fixed(-x)} Y${fixed(-inY)} I0. J${c}`,
      `G1 Y${fixed(inY)}`,
      `G2 X${fixed(-inX)} Y${fixed(y)} I${c} J0.`,
      `G1 X${fixed(inX)}`,
      `G2 X${fixed(x)} Y${fixed(inY)} I0. J-${c}`,
      'G1 Y0.',
      `G3 X${fixed(x + 6)} Y-6. I6. J0.`,
      'G0 Z2.',
    );
  }
  return metricPart('END MILL D12 R1 4FL', 4500, moves);
};

/** A slot 20 wide cut in circles of radius 5 with a 10 cutter, each a step further. */
const circlingSlot = (seed: number): string => {
  const step = 0.4 + Math.round(seeded(seed)() * 4) / 10;
  const moves = ['X-10. Y0.', 'Z2.', 'G1 Z-12. F1000.', 'F1500.'];
  for (let x = -10; x < 290; x += step) {
    moves.push(`G1 X${fixed(x + step)} Y0.`, `G3 X${fixed(x + step)} Y0. I-5. J0.`);
  }
  return metricPart('END MILL D10 4FL', 5200, moves);
};

/** Strips of a pocket with a small lift on the way back through what is open already. */
const liftedStrips = (seed: number): string => {
  const random = seeded(seed);
  const moves = ['X0. Y0.', 'Z1.', 'G1 Z0. F300.'];
  for (let level = 1; level <= 3; level++) {
    const z = -level * 4;
    moves.push('G1 X0. Y0.');
    for (let turn = 1; turn <= 4; turn++) moves.push(`G3 X0. Y0. Z${fixed(z + 4 - turn)} I6. J0. F500.`);
    moves.push('G3 X0. Y0. I6. J0.', 'G1 X6. F1500.', 'Y-6.');
    for (let x = 12; x < 70; x += 0.8) {
      const half = 12 + random();
      moves.push(
        `G1 X${fixed(x)} Y${fixed(-half)} F1600.`,
        `Y${fixed(half)}`,
        `G0 Z${fixed(z + 0.3)}`,
        `X${fixed(x - 0.4)} Y${fixed(-half + 0.6)}`,
        `G1 Z${fixed(z)} F800.`,
      );
    }
    moves.push(`G0 Z2.`, 'X0. Y0.', `G1 Z${fixed(z + 0.1)} F600.`);
  }
  return metricPart('END MILL D10 3FL', 6000, moves);
};

/** Hundreds of small strokes and curls, engraved in inches with four decimals. */
const engravedStrokes = (seed: number): string => {
  const random = seeded(seed);
  const inch = (value: number): string => fixed(value, 4).replace(/^(-?)0\./, '$1.');
  const moves: string[] = [];
  for (let row = 0; row < 20; row++) {
    for (let place = 0; place < 30; place++) {
      const x = 0.25 + place * 0.15;
      const y = 4 - row * 0.2;
      const height = 0.08 + random() * 0.04;
      const radius = Math.round((0.01 + random() * 0.02) * 10_000) / 10_000;
      moves.push(
        `G0 X${inch(x)} Y${inch(y)}`,
        'Z.03',
        'G1 Z-.006 F5.',
        `Y${inch(y + height)} F20.`,
        `X${inch(x + 0.05)}`,
        `G2 X${inch(x + 0.05)} Y${inch(y + height - 2 * radius)} I.0 J${inch(-radius)}`,
        `G1 X${inch(x + 0.01)}`,
        'G0 Z.03',
      );
    }
  }
  return [
    '%',
    'O9001 (SCALE PLATE)',
    'G20 G17 G40 G49 G80 G90',
    'T7 M6 (ENGRAVING TOOL 30 DEG)',
    'G0 G54 X.25 Y4. S12000 M3',
    'G43 H7 Z1.',
    ...moves,
    'G0 Z1.',
    'M5',
    'G91 G28 Z0.',
    'G90',
    'M30',
    '%',
  ].join('\r\n');
};

/** A field of holes: spot drilled, drilled, tapped, in counting writing with numbers on every block. */
const holeField = (seed: number): string => {
  const random = seeded(seed);
  const places = Array.from({ length: 400 }, (_, i) => {
    const x = 10 + (i % 25) * 12;
    const y = 10 + Math.floor(i / 25) * 12;
    return `X${fixed(x + random())} Y${fixed(y + random())}`;
  });
  const tool = (number: number, name: string, speed: number, cycle: string): string[] => [
    `T${number} M6 (${name})`,
    `G0 G54 ${places[0]} S${speed} M3`,
    `G43 H${number} Z25. M8`,
    `G99 ${cycle}`,
    ...places.slice(1),
    'G80 M9',
    'G91 G28 Z0. M5',
    'G90',
  ];
  const blocks = [
    'G17 G21 G40 G49 G80 G90',
    ...tool(1, 'SPOT DRILL D6', 4000, 'G81 Z-2.2 R2. F350.'),
    ...tool(2, 'DRILL D3.3', 5000, 'G83 Z-14. R2. Q2.5 F320.'),
    ...tool(3, 'TAP M4', 700, 'G84 Z-10. R4. F490.'),
    'M30',
  ];
  // Numbers start again, as they do behind the last that a control takes.
  const numbered = blocks.map((block, i) => `N${((i * 10) % 9990) + 10} ${block}`);
  return ['%', 'O9002', ...numbered, '%', ''].join('\n');
};

/** A groove pattern round a roller, every move with its time, as for a fourth axis. */
const wrappedGrooves = (seed: number): string => {
  const random = seeded(seed);
  const moves = ['A0.', 'Z27.'];
  for (let groove = 0; groove < 12; groove++) {
    const x = 10 + groove * 6;
    const reach = 1 + random();
    moves.push(`G0 X${fixed(x)} A0.`, 'G94 G1 Z24.4 F150.');
    for (let angle = 3; angle <= 360; angle += 3) {
      const along = x + reach * Math.sin((angle * Math.PI) / 45);
      const length = Math.hypot((3 * Math.PI * 25) / 180, along - x - reach * Math.sin(((angle - 3) * Math.PI) / 45));
      moves.push(`G93 G1 X${fixed(along)} A${fixed(angle)} F${fixed(300 / length, 2)}`);
    }
    moves.push('G94', 'G0 Z27.', 'G91 G0 A-360.', 'G90');
  }
  return metricPart('BALL NOSE D3', 10000, moves);
};

/** Hatching with a beam: power by S, on by M3, off by M5, no Z at all. */
const beamHatching = (seed: number): string => {
  const random = seeded(seed);
  const out = ['G21 G90 G17 G54', 'F3000'];
  for (let row = 0; row < 500; row++) {
    const y = fixed(row * 0.1, 1);
    const from = Math.round(random() * 20);
    out.push(`G0 X${from} Y${y}`, `M3 S${100 + Math.round(random() * 800)}`, `G1 X${from + 40}`, 'M5');
  }
  out.push('G0 X0 Y0', 'M2', '');
  return out.join('\n');
};

/** A free outline from lines and arcs by R, small letters, nothing between the words. */
const closeOutline = (seed: number): string => {
  const random = seeded(seed);
  const out = ['g21g17g40g49g80g90g94', 't2m6(end mill d4)', 'g54', 's9000m3', 'g0x0y-3.', 'g43h2z10.', 'm8', 'z1.'];
  for (let level = 1; level <= 8; level++) {
    out.push('x0y-3.', `g1z${fixed(-0.5 * level)}f200`, 'y0f900');
    let x = 0;
    for (let tooth = 0; tooth < 60; tooth++) {
      const width = Math.round((1.5 + random()) * 1000) / 1000;
      const radius = Math.round(width * (0.6 + random() * 0.3) * 1000) / 1000;
      out.push(`g${tooth % 2 === 0 ? 2 : 3}x${fixed(x + width)}y0r${fixed(radius)}`, `g1x${fixed(x + width + 0.8)}`);
      x = Math.round((x + width + 0.8) * 1000) / 1000;
    }
    out.push('y-3.', 'g0z1.');
  }
  out.push('g0z50.', 'm9', 'm5', 'm30', '');
  return out.join('\n');
};

const KINDS = {
  domeRows,
  coreLevels,
  circlingSlot,
  liftedStrips,
  engravedStrokes,
  holeField,
  wrappedGrooves,
  beamHatching,
  closeOutline,
};

/** Programs of every kind for one seed. */
export const generatedPrograms = (seed: number): readonly GeneratedProgram[] =>
  Object.entries(KINDS).map(([name, make]) => ({
    name: `${name} ${seed}`,
    profile: name === 'holeField' ? 'iso-macro' : 'iso',
    program: make(seed),
  }));

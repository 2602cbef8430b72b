/** `finishing-1m` of the speed page: a generated finishing program, always the same for the same number of lines. */

/** A small generator of numbers in [0, 1), seeded (mulberry32, public domain arithmetic). */
export const seeded = (seed: number): (() => number) => {
  let state = seed | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
};

/** A program with `lines` lines: modal G1 continuations, some G0, G2/G3 with I J, feed changes, remarks, header and end. */
export const finishingProgram = (lines: number): string => {
  const random = seeded(20261125);
  const out = [
    '%',
    'O1000 (FINISHING PASSES)',
    'G17 G21 G40 G49 G80 G90',
    'T1 M6 (BALL MILL D6)',
    'G54 S9000 M3',
    'G0 G43 H1 Z50. M8',
  ];
  out.push('G0 X0. Y0.', 'Z2.', 'G1 Z-1.000 F600.');
  let x = 0;
  let y = 0;
  let z = -1;
  const place = (value: number): string => value.toFixed(3);
  while (out.length < lines - 3) {
    const kind = random();
    if (out.length % 500 === 0) out.push(`(LEVEL ${out.length / 500})`);
    else if (kind < 0.03) {
      const radius = 1 + Math.round(random() * 4000) / 1000;
      const right = random() < 0.5;
      x = Math.round((x + 2 * radius) * 1000) / 1000;
      out.push(
        `G${right ? 2 : 3} X${place(x)} Y${place(y)} I${place(radius)} J0.`,
        `G1 X${place(x)} Y${place(y + 0.5)}`,
      );
      y += 0.5;
    } else if (kind < 0.035) {
      out.push('G0 Z2.000', `X${place(x)} Y${place(y)}`, `G1 Z${place(z)}`);
    } else if (kind < 0.04) out.push(`X${place(x)} Y${place(y)} F${Math.round(400 + random() * 12) * 10}`);
    else {
      x = Math.round((x + random() - 0.5) * 1000) / 1000;
      y = Math.round((y + random() - 0.5) * 1000) / 1000;
      z = -1 - Math.round(random() * 1000) / 1000;
      out.push(`X${place(x)} Y${place(y)} Z${place(z)}`);
    }
    if (x > 400) {
      x = 0;
      out.push('G0 Z2.000', `X0. Y${place(y)}`, `G1 Z${place(z)}`);
    }
  }
  while (out.length < lines - 3) out.push('X0.');
  out.length = lines - 3;
  out.push('G0 Z50. M9', 'M30', '%');
  out.push('');
  return out.join('\n');
};

/** Holes of `tappedProgram`, each of which is spotted, drilled and tapped. */
export const HOLES = 1000;

/**
 * The same finishing program with tapped holes before its end: spotted, drilled and tapped, half of them M6 and half 1/4-20
 * UNC; `lines` lines in all.
 */
export const tappedProgram = (lines: number, holes = HOLES): string => {
  const work = ['G0 Z50. M9'];
  const add = (tool: number, remark: string, speed: number, cycle: string, count: number, first: number): void => {
    work.push(`T${tool} M6 (${remark})`, `G54 S${speed} M3`, 'G0 X5. Y5.', `G43 H${tool} Z50.`, cycle);
    for (let i = 1; i < count; i++) work.push(placeOfHole(first + i));
    work.push('G80', 'G0 Z50.');
  };
  const half = holes / 2;
  add(2, 'SPOT DRILL D8', 2000, `G99 G81 ${placeOfHole(0)} Z-3. R2. F160.`, holes, 0);
  add(3, 'DRILL D5', 1600, `G99 G83 ${placeOfHole(0)} Z-19. R2. Q3. F180.`, half, 0);
  add(4, 'DRILL D5.1', 1600, `G99 G83 ${placeOfHole(half)} Z-19. R2. Q3. F180.`, half, half);
  add(5, 'TAP M6', 500, `G99 G84 ${placeOfHole(0)} Z-12. R5. F500.`, half, 0);
  add(6, 'TAP 1/4-20 UNC', 400, `G99 G84 ${placeOfHole(half)} Z-12. R5. F508.`, half, half);
  const end = ['M30', '%', ''];
  const finishing = finishingProgram(lines - work.length + 1)
    .split('\n')
    .slice(0, -4);
  return [...finishing, ...work, ...end].join('\n');
};

const placeOfHole = (index: number): string =>
  `X${(5 + (index % 40) * 10).toFixed(3)} Y${5 + Math.floor(index / 40) * 10}.`;

// Places are worked out by hand (parallel lines, concentric arcs), beside each case.
import { describe, expect, it } from 'vitest';
import { seeded } from '../../../../../tests/bench/program.ts';
import { type CentreArc, type CompensationFault, Compensator, type StandingMove } from './compensator.ts';
import type { ContourMove, Side } from './element.ts';
import type { CornerStyle } from './joint.ts';
import { shiftOpenMoves } from './openMoves.ts';

/** A programmed step: a line to, an arc to (with centre and direction), or a height. */
type Step =
  | { to: [number, number]; height?: number; rapid?: true; side?: Side; radius?: number }
  | { to: [number, number]; centre: [number, number]; ccw: boolean; height?: number; side?: Side; radius?: number }
  | { height: number }
  | { leave: true }
  | { out: [number, number]; centre?: [number, number] };

const short = (value: number): number => Math.round(value * 1e4) / 1e4 + 0;

/** Runs steps from (0, 0, 0); gives moves in words and faults. */
class Bench {
  moves: string[] = [];
  faults: CompensationFault[] = [];
  private at: [number, number, number] = [0, 0, 0];
  private line = 0;
  compensator: Compensator;
  private readonly style: CornerStyle;
  private readonly side: Side;
  private readonly radius: number;

  constructor(side: Side, radius: number, style: CornerStyle = 'arc') {
    this.side = side;
    this.radius = radius;
    this.style = style;
    this.compensator = this.create();
  }

  private create(): Compensator {
    return new Compensator(this.style, {
      line: (first, second, third, { line }) =>
        this.moves.push(`${line}: line ${[first, second, third].map(short).join(' ')}`),
      arc: (arc: CentreArc, { line }) =>
        this.moves.push(
          `${line}: arc ${[arc.endFirst, arc.endSecond, arc.endThird].map(short).join(' ')} about ${short(arc.centreFirst)} ${short(arc.centreSecond)} ${short((arc.sweep * 180) / Math.PI)}°`,
        ),
      standing: (first: number, second: number, move: StandingMove) =>
        this.moves.push(`${move.source.line}: standing ${[first, second, move.third].map(short).join(' ')}`),
      fault: (fault) => this.faults.push(fault),
    });
  }

  /** The state put away as numbers and taken back by another compensator, lines moved forth and back. */
  carryOver(): void {
    const saved = this.compensator.save(-100);
    const other = this.create();
    other.restore(saved);
    expect([...other.save(0)]).toEqual([...saved]);
    expect([...shiftOpenMoves(saved, 100)]).toEqual([...other.save(100)]);
    const back = other.save(100);
    expect([...back]).toEqual([...this.compensator.save(0)]);
    this.compensator = this.create();
    this.compensator.restore(back);
  }

  run(steps: readonly Step[], carried = false): this {
    for (const step of steps) {
      this.line++;
      this.take(step);
      if (carried) this.carryOver();
    }
    return this;
  }

  private take(step: Step): void {
    const source = { line: this.line, kind: 1, modes: 0 };
    const [first, second, third] = this.at;
    if ('leave' in step) this.compensator.finish();
    else if (!('to' in step) && !('out' in step)) {
      this.at[2] = step.height;
      // Where nothing is open the caller knows by itself where the cutter stands.
      if (!this.compensator.isOpen) this.moves.push(`${this.line}: ${this.at.join(' ')}`);
      else this.compensator.stand({ source, third: step.height, extra: 0, others: [] });
    } else {
      const to = 'to' in step ? step.to : step.out;
      const height = ('to' in step ? step.height : undefined) ?? third;
      const centre = 'centre' in step ? step.centre : undefined;
      const ccw = 'ccw' in step ? step.ccw : false;
      const move: ContourMove = {
        source,
        isRapid: 'rapid' in step,
        isArc: centre !== undefined,
        startFirst: first,
        startSecond: second,
        startThird: third,
        endFirst: to[0],
        endSecond: to[1],
        endThird: height,
        centreFirst: centre?.[0] ?? 0,
        centreSecond: centre?.[1] ?? 0,
        radius: centre === undefined ? 0 : Math.hypot(first - centre[0], second - centre[1]),
        endRadius: centre === undefined ? 0 : Math.hypot(to[0] - centre[0], to[1] - centre[1]),
        sweep: centre === undefined ? 0 : sweepOf([first, second], to, centre, ccw),
        others: [],
      };
      this.at = [to[0], to[1], height];
      if ('out' in step) this.compensator.leadOut(move);
      else this.compensator.take(move, step.side ?? this.side, step.radius ?? this.radius);
    }
  }
}

const sweepOf = (from: [number, number], to: [number, number], centre: [number, number], ccw: boolean): number => {
  const angle = (p: [number, number]) => Math.atan2(p[1] - centre[1], p[0] - centre[0]);
  let sweep = angle(to) - angle(from);
  if (ccw && sweep <= 1e-9) sweep += 2 * Math.PI;
  if (!ccw && sweep >= -1e-9) sweep -= 2 * Math.PI;
  return sweep;
};

const bench = (steps: readonly Step[], side: Side = 1, radius = 2, style: CornerStyle = 'arc'): Bench =>
  new Bench(side, radius, style).run(steps);

describe('in and out', () => {
  it('leads in to the place square to the next move, and out from the place square to the last one', () => {
    const { moves, faults } = bench([{ to: [10, 0] }, { to: [10, 20] }, { leave: true }, { out: [0, 30] }]);
    expect(moves).toEqual(['1: line 8 0 0', '2: line 8 20 0', '4: line 0 30 0']);
    expect(faults).toEqual([]);
  });

  it('knows nothing of the end of the lead-in before the next move', () => {
    expect(bench([{ to: [10, 0] }]).moves).toEqual([]);
  });

  it('ends a lead-in that nothing follows square to itself', () => {
    expect(bench([{ to: [10, 0] }, { leave: true }, { out: [20, 0] }]).moves).toEqual([
      '1: line 10 2 0',
      '3: line 20 0 0',
    ]);
  });

  it('goes down at the end of the lead-in, and up beside the contour behind G40 alone', () => {
    const { moves } = bench([
      { to: [10, 0] },
      { height: -5 },
      { to: [10, 20] },
      { leave: true },
      { height: 5 },
      { out: [0, 20] },
    ]);
    expect(moves).toEqual([
      '1: line 8 0 0',
      '2: standing 8 0 -5',
      '3: line 8 20 -5',
      '5: standing 8 20 5',
      '6: line 0 20 5',
    ]);
  });

  it('leads in from where the cutter stands when it comes back before it was out', () => {
    const { moves } = bench([
      { to: [10, 0] },
      { to: [10, 20] },
      { leave: true },
      { to: [30, 20] },
      { to: [30, 40] },
      { leave: true },
    ]);
    expect(moves.slice(2)).toEqual(['4: line 28 20 0', '5: line 28 40 0']);
  });

  it('is the programmed path with a radius of 0', () => {
    const { moves, compensator } = bench([{ to: [10, 0] }, { to: [10, 20] }, { to: [0, 20] }, { leave: true }], 1, 0);
    expect(moves).toEqual(['1: line 10 0 0', '2: line 10 20 0', '3: line 0 20 0']);
    expect(compensator.isOpen).toBe(false);
    expect(compensator.save(0).length).toBe(0);
  });
});

describe('outside corners', () => {
  // Right of the path (side −1) with a turn to the left: outside.
  const corner: Step[] = [{ to: [10, 0] }, { to: [30, 0] }, { to: [30, 20] }, { leave: true }];

  it('by an arc about the corner', () => {
    expect(bench(corner, -1).moves).toEqual([
      '1: line 10 -2 0',
      '2: line 30 -2 0',
      '2: arc 32 0 0 about 30 0 90°',
      '3: line 32 20 0',
    ]);
  });

  it('by lines made longer, up to a right angle', () => {
    expect(bench(corner, -1, 2, 'extended-lines').moves).toEqual([
      '1: line 10 -2 0',
      '2: line 32 -2 0',
      '3: line 32 20 0',
    ]);
  });

  it('by lines made longer by the radius and joined, where the corner is sharper', () => {
    const back: Step[] = [{ to: [10, 0] }, { to: [30, 0] }, { to: [10, 0] }, { leave: true }];
    expect(bench(back, -1, 2, 'extended-lines').moves).toEqual([
      '1: line 10 -2 0',
      '2: line 32 -2 0',
      '2: line 32 2 0',
      '3: line 10 2 0',
    ]);
  });

  it('turns round the end where the path goes back', () => {
    const back: Step[] = [{ to: [10, 0] }, { to: [30, 0] }, { to: [10, 0] }, { leave: true }];
    expect(bench(back, -1).moves[2]).toBe('2: arc 30 2 0 about 30 0 180°');
    expect(bench(back, 1).moves[2]).toBe('2: arc 30 -2 0 about 30 0 -180°');
  });

  it('goes straight on from an arc with lines made longer', () => {
    // A quarter about (10, 10) from (10, 0) to (20, 10) going up there; then back down to the left: outside on the right.
    const { moves } = bench(
      [{ to: [10, 0] }, { to: [20, 10], centre: [10, 10], ccw: true }, { to: [0, 10] }, { leave: true }],
      -1,
      2,
      'extended-lines',
    );
    expect(moves).toEqual(['1: line 10 -2 0', '2: arc 22 10 0 about 10 10 90°', '2: line 22 12 0', '3: line 0 12 0']);
  });

  it('between two rapids goes straight: a rapid has no arc', () => {
    const { moves } = bench(
      [{ to: [10, 0] }, { to: [30, 0], rapid: true }, { to: [30, 20], rapid: true }, { leave: true }],
      -1,
    );
    expect(moves).toEqual(['1: line 10 -2 0', '2: line 32 -2 0', '3: line 32 20 0']);
  });

  it('stands still at the start of the next move', () => {
    const { moves } = bench([{ to: [10, 0] }, { to: [30, 0] }, { height: -3 }, { to: [30, 20] }, { leave: true }], -1);
    expect(moves.slice(2)).toEqual(['2: arc 32 0 0 about 30 0 90°', '3: standing 32 0 -3', '4: line 32 20 -3']);
  });
});

describe('inside corners', () => {
  it('line and line cross', () => {
    const { moves, faults } = bench([{ to: [10, 0] }, { to: [30, 0] }, { to: [30, 20] }, { leave: true }]);
    expect(moves).toEqual(['1: line 10 2 0', '2: line 28 2 0', '3: line 28 20 0']);
    expect(faults).toEqual([]);
  });

  it('line and arc cross', () => {
    // Right of a line along X, then a counter-clockwise arc about (30, 0) from (20, 0): outside radius 10 + 2 = 12, and
    // the line at y = −2: x = 30 − √(144 − 4) = 18.1678.
    const { moves, faults } = bench(
      [{ to: [0, 0.5] }, { to: [0, 0] }, { to: [20, 0] }, { to: [40, 0], centre: [30, 0], ccw: true }, { leave: true }],
      -1,
    );
    expect(moves[moves.length - 2]).toBe('3: line 18.1678 -2 0');
    expect(moves[moves.length - 1]).toBe('4: arc 42 0 0 about 30 0 170.4059°');
    expect(faults.filter(({ kind }) => kind === 'short-step')).toEqual([]);
  });

  it('arc and arc cross', () => {
    // Two half circles of radius 10 side by side, cutter outside: radii 12 about (10, 0) and (30, 0) cross at x = 20,
    // y = √(144 − 100) = 6.6332.
    const { moves } = bench(
      [
        { to: [0, 0] },
        { to: [20, 0], centre: [10, 0], ccw: false },
        { to: [40, 0], centre: [30, 0], ccw: false },
        { leave: true },
      ],
      1,
    );
    expect(moves[1]).toMatch(/^2: arc 20 6.6332 0 about 10 0/);
    expect(moves[2]).toMatch(/^3: arc 42 0 0 about 30 0/);
  });

  it('tangent moves follow each other without a move between', () => {
    const { moves } = bench([
      { to: [10, 0] },
      { to: [20, 0] },
      { to: [30, 10], centre: [20, 10], ccw: true },
      { to: [30, 20] },
      { leave: true },
    ]);
    expect(moves).toEqual(['1: line 10 2 0', '2: line 20 2 0', '3: arc 28 10 0 about 20 10 90°', '4: line 28 20 0']);
  });

  it('a corner that rounding made is no fault', () => {
    const { faults, moves } = bench([
      { to: [10, 0] },
      { to: [20, 0.0004] },
      { to: [20.001, 0.0004], height: 0 },
      { to: [30, 0.001] },
      { leave: true },
    ]);
    expect(faults).toEqual([]);
    expect(moves.length).toBeGreaterThan(3);
  });
});

describe('arcs and heights', () => {
  it('a full circle inside a bore', () => {
    const { moves } = bench([
      { to: [10, 0] },
      { to: [10, 0], centre: [0, 0], ccw: true },
      { leave: true },
      { out: [0, 0] },
    ]);
    expect(moves).toEqual(['1: line 8 0 0', '2: arc 8 0 0 about 0 0 360°', '4: line 0 0 0']);
  });

  it('a helix spreads its height over what is left of it', () => {
    const { moves } = bench([
      { to: [10, 0] },
      { to: [10, 0], centre: [0, 0], ccw: true, height: -1 },
      { to: [10, 0], centre: [0, 0], ccw: true, height: -2 },
      { leave: true },
    ]);
    expect(moves).toEqual(['1: line 8 0 0', '2: arc 8 0 -1 about 0 0 360°', '3: arc 8 0 -2 about 0 0 360°']);
  });

  it('an inside arc of the cutter’s own radius is a point', () => {
    const { moves, faults } = bench([
      { to: [10, 0] },
      { to: [28, 0] },
      { to: [30, 2], centre: [28, 2], ccw: true },
      { to: [30, 20] },
      { leave: true },
    ]);
    expect(moves).toEqual(['1: line 10 2 0', '2: line 28 2 0', '4: line 28 20 0']);
    expect(faults).toEqual([]);
  });
});

describe('changes on the way', () => {
  it('another D blends in over its block', () => {
    const { moves } = bench([
      { to: [10, 0] },
      { to: [30, 0] },
      { to: [60, 0], radius: 3 },
      { to: [90, 0], radius: 3 },
      { leave: true },
    ]);
    expect(moves).toEqual(['1: line 10 2 0', '2: line 30 2 0', '3: line 60 3 0', '4: line 90 3 0']);
  });

  it('another D blends in over an arc', () => {
    const { moves } = bench([
      { to: [10, 0] },
      { to: [-10, 0], centre: [0, 0], ccw: true },
      { to: [10, 0], centre: [0, 0], ccw: true, radius: 3 },
      { leave: true },
    ]);
    expect(moves).toEqual(['1: line 8 0 0', '2: arc -8 0 0 about 0 0 180°', '3: arc 7 0 0 about 0 0 180°']);
  });

  it('the other side is taken up straight', () => {
    const { moves, faults } = bench([{ to: [10, 0] }, { to: [30, 0] }, { to: [60, 0], side: -1 }, { leave: true }]);
    expect(moves).toEqual(['1: line 10 2 0', '2: line 30 2 0', '2: line 30 -2 0', '3: line 60 -2 0']);
    expect(faults).toEqual([]);
  });

  it('going back on the other side needs no way between', () => {
    const { moves } = bench([{ to: [10, 0] }, { to: [30, 0] }, { to: [10, 0], side: -1 }, { leave: true }]);
    expect(moves).toEqual(['1: line 10 2 0', '2: line 30 2 0', '3: line 10 2 0']);
  });
});

describe('faults', () => {
  const faultsOf = (steps: readonly Step[], side: Side = 1, radius = 2) => bench(steps, side, radius).faults;

  it('an arc leads in or out', () => {
    const faults = faultsOf([
      { to: [20, 0], centre: [10, 0], ccw: false },
      { to: [40, 0] },
      { leave: true },
      { out: [60, 0], centre: [50, 0] },
    ]);
    expect(faults.map(({ kind }) => kind)).toEqual(['arc-lead-in', 'arc-lead-out']);
  });

  it('a lead-in shorter than the radius', () => {
    expect(faultsOf([{ to: [1.5, 0] }, { to: [1.5, 20] }])).toEqual([
      { kind: 'short-lead-in', radius: 2, length: 1.5 },
    ]);
    expect(faultsOf([{ to: [2, 0] }, { to: [2, 20] }])).toEqual([]);
  });

  it('an inside radius smaller than the cutter', () => {
    const corner: Step[] = [
      { to: [10, 0] },
      { to: [28.5, 0] },
      { to: [30, 1.5], centre: [28.5, 1.5], ccw: true },
      { to: [30, 20] },
    ];
    expect(faultsOf(corner)).toEqual([{ kind: 'inside-radius', radius: 2, arcRadius: 1.5 }]);
    expect(faultsOf(corner, -1)).toEqual([]);
  });

  it('a step shorter than the cutter in an inside corner, before and behind it', () => {
    expect(faultsOf([{ to: [10, 0] }, { to: [30, 0] }, { to: [30, 1] }, { to: [50, 1] }])).toEqual([
      { kind: 'short-step', isBefore: false, length: 1, radius: 2 },
    ]);
    expect(faultsOf([{ to: [9, 0] }, { to: [10, 0] }, { to: [10, 20] }])).toEqual([
      { kind: 'short-step', isBefore: true, length: 1, radius: 2 },
    ]);
  });

  it('a slot narrower than the cutter: the step between its walls is used up from both ends', () => {
    expect(
      faultsOf([{ to: [0, 10] }, { to: [0, 0] }, { to: [3, 0] }, { to: [3, 10] }]).map(({ kind }) => kind),
    ).toEqual(['short-step']);
    expect(faultsOf([{ to: [0, 10] }, { to: [0, 0] }, { to: [4, 0] }, { to: [4, 10] }])).toEqual([]);
  });
});

describe('the state between two moves as numbers', () => {
  it('gives the same moves when it is carried over behind every step, on random steps', () => {
    for (let seed = 1; seed <= 200; seed++) {
      const random = seeded(seed);
      const place = (): [number, number] => [Math.round(random() * 60), Math.round(random() * 60)];
      const steps = Array.from({ length: 25 }, (): Step => {
        const kind = random();
        if (kind < 0.1) return { height: Math.round(random() * 10) };
        if (kind < 0.15) return { leave: true };
        if (kind < 0.2) return { out: place() };
        const side: Side = random() < 0.9 ? 1 : -1;
        if (kind < 0.4)
          return { to: place(), centre: place(), ccw: random() < 0.5, height: Math.round(random() * 5), side };
        return { to: place(), side, radius: random() < 0.9 ? 2 : 3 };
      });
      const style = seed % 2 === 0 ? 'arc' : 'extended-lines';
      const whole = new Bench(1, 2, style).run(steps);
      const carried = new Bench(1, 2, style).run(steps, true);
      expect(carried.moves, `seed ${seed}`).toEqual(whole.moves);
      expect(carried.faults).toEqual(whole.faults);
    }
  });
});

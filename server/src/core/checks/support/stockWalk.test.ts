/**
 * The blank followed through programs: what is told to stand is measured against the program's own cuts by a second way,
 * points a twentieth of a millimetre apart along each of them.
 */
import { describe, expect, it } from 'vitest';
import { seeded } from '../../../../../tests/bench/program.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../../machine/configuration.ts';
import { Analysis } from '../analysis.ts';

const CONFIGURATION: Configuration = {
  ...DEFAULT_CONFIGURATION,
  stock: { offset: 'G54', shape: 'box', min: [0, 0, -20], max: [60, 40, 0] },
};

interface Place {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly radius: number;
}

/** A program of random cuts and rapids over the blank, and points along its cuts, written while it is written. */
class RandomProgram {
  readonly lines: string[] = ['G21 G90 G17 G54', 'S3000 M3 F400'];
  /** By line: how many points were cut before it. */
  readonly before: number[] = [];
  readonly cut: Place[] = [];
  /** The same along rapids, and how many there were before a line: what one went through is told once. */
  readonly ploughed: Place[] = [];
  readonly ploughedBefore: number[] = [];
  private readonly random: () => number;
  private x = 0;
  private y = 0;
  private z = 30;
  private radius = 0;

  constructor(seed: number) {
    this.random = seeded(seed);
    this.change(1);
    for (let i = 2; i < 26; i++) {
      if (this.random() < 0.15) this.change(i);
      this.operation();
    }
    this.add('M30');
  }

  private add(line: string): void {
    this.before[this.lines.length] = this.cut.length;
    this.ploughedBefore[this.lines.length] = this.ploughed.length;
    this.lines.push(line);
  }

  private number(least: number, most: number): number {
    return Math.round((least + this.random() * (most - least)) * 100) / 100;
  }

  private change(tool: number): void {
    const diameter = [4, 6, 10][Math.floor(this.random() * 3)];
    this.add('G0 Z30.');
    this.add(`T${tool} M6 (END MILL D${diameter})`);
    this.add(`G43 H${tool} Z30.`);
    this.radius = diameter / 2;
    this.z = 30;
  }

  private to(code: string, x: number, y: number, z: number, centre?: readonly [number, number]): void {
    const isCut = code !== 'G0';
    const arc = centre === undefined ? '' : ` I${(centre[0] - this.x).toFixed(3)} J${(centre[1] - this.y).toFixed(3)}`;
    this.add(`${code} X${x.toFixed(3)} Y${y.toFixed(3)} Z${z.toFixed(3)}${arc}`);
    if (centre === undefined) this.straight(isCut ? this.cut : this.ploughed, x, y, z);
    else this.circle(code === 'G3' ? 1 : -1, z, centre);
    [this.x, this.y, this.z] = [x, y, z];
  }

  private straight(points: Place[], x: number, y: number, z: number): void {
    const steps = 1 + Math.ceil(Math.hypot(x - this.x, y - this.y, z - this.z) * 20);
    for (let i = 0; i <= steps; i++) {
      const at = (from: number, to: number) => from + ((to - from) * i) / steps;
      points.push({ x: at(this.x, x), y: at(this.y, y), z: at(this.z, z), radius: this.radius });
    }
  }

  private circle(turn: number, z: number, [cx, cy]: readonly [number, number]): void {
    const r = Math.hypot(this.x - cx, this.y - cy);
    const start = Math.atan2(this.y - cy, this.x - cx);
    const steps = Math.ceil(r * 2 * Math.PI * 20);
    for (let i = 0; i <= steps; i++) {
      const angle = start + (turn * 2 * Math.PI * i) / steps;
      const [x, y] = [cx + r * Math.cos(angle), cy + r * Math.sin(angle)];
      this.cut.push({ x, y, z: this.z + ((z - this.z) * i) / steps, radius: this.radius });
    }
  }

  private operation(): void {
    this.to('G0', this.x, this.y, 2);
    this.to('G0', this.number(-5, 65), this.number(-5, 45), 2);
    if (this.random() < 0.25) {
      this.to('G0', this.x, this.y, -this.number(0, 6));
      this.to('G0', this.number(-5, 65), this.number(-5, 45), this.z);
      return;
    }
    this.to('G1', this.x, this.y, -this.number(0.5, 9));
    for (let i = 0; i < 3; i++) {
      if (this.random() < 0.3) {
        const centre = [this.x + this.number(1, 12), this.y + this.number(-6, 6)] as const;
        this.to(this.random() < 0.5 ? 'G2' : 'G3', this.x, this.y, -this.number(0.5, 9), centre);
      } else this.to('G1', this.number(0, 60), this.number(0, 40), this.random() < 0.3 ? -this.number(0.5, 9) : this.z);
    }
    if (this.random() < 0.3) this.to('G0', this.number(0, 60), this.number(0, 40), this.z);
  }
}

const STANDS = /at X(\S+) Y(\S+) it stands to Z(\S+) at least, and the rapid runs at Z(\S+)\./;

describe('the blank followed through a program', () => {
  it('tells of no place that a cut had reached lower before', () => {
    let told = 0;
    for (let seed = 1; seed <= 60; seed++) {
      const program = new RandomProgram(seed);
      const analysis = new Analysis(program.lines.join('\n'), CONFIGURATION);
      analysis.run();
      for (const { message, line, rule } of analysis.findings().findings) {
        const found = STANDS.exec(message);
        if (rule !== 'rapid-into-stock' || found === null) continue;
        told++;
        const [x, y, standing, level] = found.slice(1).map(Number);
        const lower = program.cut
          .slice(0, program.before[line])
          .filter((place) => Math.hypot(place.x - x, place.y - y) <= place.radius && place.z < standing - 0.001);
        expect(lower, `seed ${seed}, line ${line + 1}: ${message}`).toEqual([]);
        expect(standing).toBeGreaterThan(level);
      }
    }
    expect(told).toBeGreaterThan(40);
  });

  it('tells of each rapid that goes through what no cut came near', () => {
    let missed = 0;
    let expected = 0;
    for (let seed = 101; seed <= 130; seed++) {
      const program = new RandomProgram(seed);
      const analysis = new Analysis(program.lines.join('\n'), CONFIGURATION);
      analysis.run();
      const told = analysis.findings().findings.filter(({ rule }) => rule === 'rapid-into-stock');
      // Down at rapid into a place of the blank, 3 mm and more from its edge and from all that was cut.
      program.lines.forEach((text, line) => {
        const [, x, y, z] = (/^G0 X(\S+) Y(\S+) Z(-\S+)/.exec(text) ?? []).map(Number);
        if (!(z < -0.2) || x < 3 || x > 57 || y < 3 || y > 37) return;
        const near = program.cut
          .slice(0, program.before[line])
          .concat(program.ploughed.slice(0, program.ploughedBefore[line]).filter((place) => place.z < 0))
          .some((place) => Math.hypot(place.x - x, place.y - y) <= place.radius + 3);
        if (near) return;
        expected++;
        if (!told.some((finding) => finding.line === line)) missed++;
      });
    }
    expect(expected).toBeGreaterThan(10);
    expect(missed).toBe(0);
  });
});

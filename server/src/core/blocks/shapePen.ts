/**
 * Draws a shape in its own axes, length along X and the centre at 0, into a block: turned, moved to its place and rounded
 * to what the program writes. Ends and centres of arcs all lie on written numbers, so that the radii at both ends of an arc
 * differ by less than the 0.002 mm (0.0002 in) of the strictest control: half a last digit in X and Y, at start and end.
 */
import { type BlockWriter, roundLength } from './blockWriter.ts';
import type { Place } from './parameter.ts';

/** Lengths mm, feeds mm/min, Z in the work's zero. */
export class ShapePen {
  readonly writer: BlockWriter;
  readonly #centre: Place;
  readonly #cosine: number;
  readonly #sine: number;
  #at: Place = [Number.NaN, Number.NaN];
  #height = Number.NaN;
  #seconds = 0;

  /** `angle`: degrees counter-clockwise. */
  constructor(writer: BlockWriter, centre: Place, angle: number) {
    this.writer = writer;
    this.#centre = centre;
    // Quarter turns come out exact, so that their numbers do.
    this.#cosine = angle % 180 === 90 || angle % 180 === -90 ? 0 : Math.cos((angle * Math.PI) / 180);
    this.#sine = angle % 180 === 0 ? 0 : Math.sin((angle * Math.PI) / 180);
  }

  /** A place of the shape as the program writes it. */
  place([x, y]: Place): Place {
    const { inch } = this.writer;
    return [
      roundLength(this.#centre[0] + x * this.#cosine - y * this.#sine, inch),
      roundLength(this.#centre[1] + x * this.#sine + y * this.#cosine, inch),
    ];
  }

  /** Time that its cuts take at their feeds, s. */
  get seconds(): number {
    return this.#seconds;
  }

  /** The cutter stands over a place already. */
  stand(at: Place): void {
    this.#at = this.place(at);
  }

  /** Goes over a place at rapid, at the height it stands at. */
  over(to: Place): void {
    this.stand(to);
    this.writer.rapid(['X', this.#at[0]], ['Y', this.#at[1]]);
  }

  /** Straight up or down at rapid. */
  rapidTo(height: number): void {
    this.#height = height;
    this.writer.rapid(['Z', height]);
  }

  /** Straight down at feed. */
  down(height: number, feed: number): void {
    this.#count(0, height, feed);
    this.writer.cut(feed, ['Z', height]);
  }

  /** A straight cut; one of no length is left out. */
  line(to: Place, feed: number, height?: number): void {
    const place = this.place(to);
    if (height === undefined && place[0] === this.#at[0] && place[1] === this.#at[1]) return;
    this.#count(Math.hypot(place[0] - this.#at[0], place[1] - this.#at[1]), height, feed);
    this.#at = place;
    const sideways: readonly (readonly [string, number])[] = [
      ['X', place[0]],
      ['Y', place[1]],
    ];
    this.writer.cut(feed, ...sideways, ...(height === undefined ? [] : [['Z', height] as const]));
  }

  /** An arc about a centre; with a height a helix. From a place to itself it is a full turn. */
  arc(clockwise: boolean, to: Place, centre: Place, feed: number, height?: number): void {
    const place = this.place(to);
    const middle = this.place(centre);
    const more = height === undefined ? [] : [['Z', height] as const];
    this.#count(arcLength(clockwise, this.#at, place, middle), height, feed, this.writer.profile.helixFeed === 'plane');
    this.writer.arc(clockwise, this.#at, place, middle, feed, more);
    this.#at = place;
  }

  #count(sideways: number, height: number | undefined, feed: number, isFlat = false): void {
    const drop = height === undefined || isFlat ? 0 : height - this.#height;
    if (height !== undefined) this.#height = height;
    this.#seconds += (Math.hypot(sideways, drop) / feed) * 60;
  }
}

/** Length of an arc in its plane; a full turn where it ends where it begins. */
const arcLength = (clockwise: boolean, from: Place, to: Place, centre: Place): number => {
  const start = Math.atan2(from[1] - centre[1], from[0] - centre[0]);
  const end = Math.atan2(to[1] - centre[1], to[0] - centre[0]);
  const turn = (clockwise ? start - end : end - start) / (2 * Math.PI);
  const share = from[0] === to[0] && from[1] === to[1] ? 1 : turn - Math.floor(turn);
  return share * 2 * Math.PI * Math.hypot(from[0] - centre[0], from[1] - centre[1]);
};

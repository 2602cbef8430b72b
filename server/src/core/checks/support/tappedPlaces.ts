/** The places that a program taps, and what comes to them: kept from one reading of the findings to the next. */
import type { PlacedOpening, ShaftDigest } from './shaftDigest.ts';
import { type Opening, type Shaft, type ShaftPlace, Shafts } from './shafts.ts';

/** The openings of a segment as lines of the program. */
interface OpeningsAt {
  readonly firstLine: number;
  readonly openings: readonly Opening[];
}

const openingsAt = new WeakMap<ShaftDigest, OpeningsAt>();

const placedOpenings = (digest: ShaftDigest, firstLine: number): readonly Opening[] => {
  const before = openingsAt.get(digest);
  if (before?.firstLine === firstLine) return before.openings;
  const openings = digest.openings.map(({ opening }) => ({ ...opening, line: firstLine + opening.line }));
  openingsAt.set(digest, { firstLine, openings });
  return openings;
};

/** Made of the segments that tap; good for as long as these are the same. */
export class TappedPlaces {
  /** The places and their holes, in the order that the run comes to them. */
  readonly places: readonly ShaftPlace[];
  readonly tapped: readonly Shaft[];
  private readonly digests: readonly ShaftDigest[];
  private readonly shafts = new Shafts();
  /** By segment, the tapped hole of each of its openings. */
  private readonly found = new WeakMap<ShaftDigest, readonly (Shaft | undefined)[]>();

  constructor(digests: readonly ShaftDigest[]) {
    this.digests = digests;
    this.places = digests.flatMap(({ tapPlaces }) => tapPlaces);
    this.tapped = this.places.map((place) => this.shafts.at(place));
  }

  /** True if they were made of the same segments. */
  isOf(digests: readonly ShaftDigest[]): boolean {
    return digests.length === this.digests.length && digests.every((digest, index) => digest === this.digests[index]);
  }

  /** True if a box, least and greatest X and Y, comes near any of them. */
  areNear(least: readonly number[], most: readonly number[]): boolean {
    return this.shafts.areNear(least, most);
  }

  /** Nothing is drilled yet. */
  forget(): void {
    this.shafts.forget();
  }

  /** Notes what is opened at a place that is tapped. */
  open({ place, opening }: PlacedOpening, firstLine: number): void {
    this.shafts.find(place)?.openings.push({ ...opening, line: firstLine + opening.line });
  }

  /** The same for all openings of a segment, whose first line is given. */
  openAll(digest: ShaftDigest, firstLine: number): void {
    if (digest.openings.length === 0) return;
    let found = this.found.get(digest);
    if (found === undefined) {
      found = digest.openings.map(({ place }) => this.shafts.find(place));
      this.found.set(digest, found);
    }
    const openings = placedOpenings(digest, firstLine);
    for (let i = 0; i < found.length; i++) found[i]?.openings.push(openings[i]);
  }
}

// How a large path is drawn: in lines of their width where that comes quickly enough, in thin ones where it does not; and
// when the next picture may begin, so that pictures do not pile up where there is no graphics card.

/** Above this number of ways a path is large: without a graphics card wide lines take 15 to 25 microseconds a way. */
const LARGE = 20_000;
/** A picture that takes no longer is no hindrance to moving, ms: 20 of them in a second. */
const QUICK = 50;
/** For a path that rests to get its widths nobody waits longer, ms. */
const BEARABLE = 1_000;
/** The camera rests when it has not moved for so long, ms. */
const REST = 200;
/** While pieces come, the time between pictures is so many times what a picture takes. */
const BREATH = 2;
/** What may be left out of thin lines, pixels: while the picture changes, and at rest. */
const CHANGING = 2;
const RESTING = 0.5;

/** What a picture is of. */
export interface PictureKind {
  readonly ways: number;
  /** Pieces are on their way. */
  readonly isGrowing: boolean;
}

/** True if a path of so many ways takes its time. */
export const isLarge = (ways: number): boolean => ways > LARGE;

/** Watches how long the pictures of one view take. */
export class Pace {
  readonly #isSlow: boolean;
  readonly #rested: () => void;
  #timer: ReturnType<typeof setTimeout> | undefined;
  /** How long wide lines took last, ms for a way; undefined where none were drawn. */
  #wideTime: number | undefined;
  #lastTime = 0;
  #lastEnd = Number.NEGATIVE_INFINITY;

  /** `isSlow`: there is no graphics card. `rested` is called when the camera has come to rest. */
  constructor(isSlow: boolean, rested: () => void) {
    this.#isSlow = isSlow;
    this.#rested = rested;
  }

  /** The camera has moved. */
  moved(): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => {
      this.#timer = undefined;
      this.#rested();
    }, REST);
  }

  /** Thin lines: what may be left out of them, pixels. `undefined`: the lines have their width. */
  thinness({ ways, isGrowing }: PictureKind): number | undefined {
    if (!isLarge(ways)) {
      return undefined;
    }
    const isChanging = this.#timer !== undefined || isGrowing;
    // While nothing is known of wide lines they are tried at rest only.
    const isWideQuick = this.#wideTime !== undefined && this.#wideTime * ways <= QUICK && !this.#isSlow;
    if (isChanging ? isWideQuick : !this.restsThin({ ways, isGrowing })) {
      return undefined;
    }
    return isChanging ? CHANGING : RESTING;
  }

  /** True if such a picture is to be in thin lines also when all is at rest. */
  restsThin({ ways, isGrowing }: PictureKind): boolean {
    return !isGrowing && isLarge(ways) && (this.#isSlow || (this.#wideTime ?? 0) * ways > BEARABLE);
  }

  /** Milliseconds until the next picture may begin; 0 or less: now. */
  pause(now: number, { isGrowing }: PictureKind): number {
    return isGrowing && this.#lastTime > QUICK ? this.#lastEnd + BREATH * this.#lastTime - now : 0;
  }

  /** A picture was there at `end`, ms, so long after it was begun; its first one of a kind takes longer than those after it. */
  took(milliseconds: number, end: number, ways: number, isWide: boolean, isFirst: boolean): void {
    this.#lastTime = milliseconds;
    this.#lastEnd = end;
    if (isWide && !isFirst) {
      this.#wideTime = milliseconds / ways;
    }
  }
}

// The playback of the run: the clock goes, the tool moves along the path, the text follows. Folded to one button until used.
import type { PathMove } from '../../server/src/core/geometry/pathRequestMove.ts';
import type { PathSection } from '../../server/src/core/geometry/pathSummary.ts';
import type { Camera, Size } from './camera.ts';
import { RATES, RunClock } from './clock.ts';
import { drawCutter } from './cutterPicture.ts';
import type { Kept } from './kept.ts';
import type { Picture } from './picture.ts';
import { PlayBar } from './playBar.ts';
import { clockText, placeTexts, restText, stopText } from './playBarText.ts';
import { listenForPlayKeys } from './playbackKeys.ts';
import { type RunStop, type StopChoice, stopsOf } from './playbackStops.ts';
import { PlayedMove } from './playedMove.ts';
import {
  endPlace,
  isOver,
  lineOf,
  placeAt,
  pointOf,
  type RunPlace,
  secondsOf,
  startPlace,
  totalSeconds,
} from './playPosition.ts';
import { stepBack, stepOn } from './playSteps.ts';
import type { LitLines, RunSeen } from './scene.ts';
import type { Way } from './sight.ts';
import type { Theme } from './theme.ts';

/** What the playback works with. */
export interface Played {
  readonly picture: Picture;
  /** The move of a way in words. */
  explain(way: Way): Promise<PathMove | null>;
  /** Asks for the times of the path. */
  wantTimes(): void;
  /** Another line runs; undefined: none does any longer. */
  runs(line: number | undefined): void;
  /** What is drawn is another one. */
  changed(): void;
}

/** Between two words to the editor on the line that runs, ms. */
const TELL_PAUSE = 100;
/** Between two steps of the picture where motion is not wanted, ms. */
const STEP_PAUSE = 250;

/** See the top of the file. */
export class Playback {
  readonly #played: Played;
  readonly #kept: Kept;
  readonly #bar: PlayBar;
  readonly #clock = new RunClock();
  readonly #move: PlayedMove;
  #choice: StopChoice;
  #stops: readonly RunStop[] = [];
  #isOpen = false;
  /** Play was asked for before the times were there. */
  #isWaiting = false;
  #place: RunPlace | undefined;
  /** Pieces that the place is in. */
  #ids: readonly number[] = [];
  /** Why it has stopped by itself. */
  #words = '';
  #toldLine: number | undefined;
  #tellTimer: ReturnType<typeof setTimeout> | undefined;
  #lastStep = Number.NEGATIVE_INFINITY;

  /** Builds the bar into an element; the keys work wherever the keyboard is in the page. */
  constructor(into: HTMLElement, kept: Kept, played: Played) {
    this.#played = played;
    this.#kept = kept;
    this.#move = new PlayedMove(
      (way) => played.explain(way),
      () => this.#show(),
    );
    const { rate, ...choice } = readChoice(kept.read('playback'));
    this.#clock.rate = rate;
    this.#choice = choice;
    const actions = {
      close: () => this.#close(),
      playOrPause: () => this.#playOrPause(),
      step: (by: 1 | -1) => this.#step(by),
      goTo: (end: 'start' | 'end') => this.#goTo(end),
    };
    this.#bar = new PlayBar(into, {
      ...actions,
      scrub: (seconds) => this.#scrub(seconds),
      setRate: (chosen) => {
        this.#clock.rate = chosen;
        this.#keep();
      },
      stopAt: (which, isOn) => {
        this.#choice = { ...this.#choice, [which]: isOn };
        this.#keep();
      },
    });
    this.#bar.choose(rate, choice);
    listenForPlayKeys(into.ownerDocument, { ...actions, isOpen: () => this.#isOpen });
  }

  /** How far the run has come; `undefined` where nothing is played. */
  get seen(): RunSeen | undefined {
    const place = this.#place;
    if (!this.#isOpen || !place) {
      return undefined;
    }
    const { piece, vertex, part } = place;
    return part === 1 ? { piece, ways: vertex, part: 0 } : { piece, ways: vertex - 1, part };
  }

  /** The block that runs; `undefined` where nothing is played. */
  get lit(): LitLines | undefined {
    const line = this.#line();
    return line === undefined ? undefined : { first: line, last: line };
  }

  /** Draws the cutter where the run is. */
  drawTool(context: CanvasRenderingContext2D, camera: Camera, size: Size, theme: Theme): void {
    const tip = this.#isOpen && this.#place ? pointOf(this.#played.picture.pieces, this.#place) : undefined;
    if (tip) {
      drawCutter(context, camera, size, theme, this.#section()?.tool, tip);
    }
  }

  /** A run is shown. */
  get isOpen(): boolean {
    return this.#isOpen;
  }

  /** Another program is shown. */
  begin(): void {
    this.#close();
    this.#clock.set(0);
    this.#place = undefined;
    this.#ids = [];
  }

  /** Pieces or times have come: the run is at the same second of what is there now. */
  pathChanged(): void {
    const { pieces, summary } = this.#played.picture;
    this.#stops = stopsOf(summary, this.#choice);
    const ids = pieces.map(({ id }) => id);
    const isSame = ids.length === this.#ids.length && ids.every((id, i) => id === this.#ids[i]);
    if (!isSame || !this.#place) {
      this.#ids = ids;
      this.#clock.set(Math.min(this.#clock.seconds, totalSeconds(pieces)));
      this.#place = this.#isReady() ? placeAt(pieces, this.#clock.seconds) : undefined;
    }
    if (this.#isWaiting && this.#isReady()) {
      this.#isWaiting = false;
      this.#run();
    }
    this.#show();
  }

  #isReady(): boolean {
    const { complete, pieces } = this.#played.picture;
    const isThere = pieces.every(({ path, times }) => times !== undefined || path.vertexCount === 0);
    return complete && isThere && pieces.some(({ path }) => path.vertexCount > 0);
  }

  #open(): void {
    if (!this.#isOpen) {
      this.#isOpen = true;
      this.#bar.fold(false);
      this.#played.wantTimes();
      this.pathChanged();
    }
  }

  #close(): void {
    this.#clock.pause();
    this.#isWaiting = false;
    this.#words = '';
    if (this.#isOpen) {
      this.#isOpen = false;
      this.#bar.fold(true);
      this.#tell();
      this.#played.changed();
    }
  }

  #playOrPause(): void {
    this.#open();
    if (this.#clock.isRunning || this.#isWaiting) {
      this.#pause();
    } else if (this.#isReady()) {
      this.#run();
    } else {
      this.#isWaiting = true;
    }
    this.#show();
  }

  #run(): void {
    const { pieces } = this.#played.picture;
    if (isOver(pieces, this.#clock.seconds)) {
      this.#clock.set(0);
    }
    this.#words = '';
    this.#clock.run();
    this.#askFrame();
  }

  #pause(): void {
    this.#clock.pause();
    this.#isWaiting = false;
    this.#words = '';
  }

  #askFrame(): void {
    requestAnimationFrame((now) => this.#frame(now));
  }

  /** A picture of the screen. */
  #frame(now: number): void {
    if (!this.#clock.isRunning) {
      return;
    }
    const { pieces } = this.#played.picture;
    // While an edit is on its way the clock stands.
    if (this.#isReady()) {
      const total = totalSeconds(pieces);
      const held = this.#clock.tick(now, total, this.#stops);
      this.#words = stopText(held);
      const hasEnded = this.#clock.seconds >= total;
      const place = hasEnded ? endPlace(pieces) : placeAt(pieces, this.#clock.seconds);
      this.#place = this.#stepped(place, now);
      this.#show();
    }
    this.#askFrame();
  }

  /** Where motion is not wanted: from stop to stop of single steps instead of gliding, and not too often. */
  #stepped(place: RunPlace | undefined, now: number): RunPlace | undefined {
    if (!place || !this.#clock.isRunning || !isMotionUnwanted()) {
      return place;
    }
    if (now - this.#lastStep < STEP_PAUSE && this.#place) {
      return this.#place;
    }
    this.#lastStep = now;
    return stepBack(this.#played.picture.pieces, place) ?? place;
  }

  #step(by: 1 | -1): void {
    this.#open();
    const { pieces } = this.#played.picture;
    const place = this.#place && (by > 0 ? stepOn : stepBack)(pieces, this.#place);
    this.#pause();
    if (place) {
      this.#put(place);
    }
  }

  #goTo(end: 'start' | 'end'): void {
    const { pieces } = this.#played.picture;
    const place = end === 'start' ? startPlace(pieces) : endPlace(pieces);
    if (place && this.#isReady()) {
      this.#put(place);
    }
  }

  #scrub(seconds: number): void {
    const { pieces } = this.#played.picture;
    const place = this.#isReady() && Number.isFinite(seconds) ? placeAt(pieces, seconds) : undefined;
    if (place) {
      this.#put(place);
    }
  }

  #put(place: RunPlace): void {
    this.#words = '';
    this.#place = place;
    this.#clock.set(secondsOf(this.#played.picture.pieces, place));
    this.#show();
  }

  #line(): number | undefined {
    return this.#isOpen && this.#place ? lineOf(this.#played.picture.pieces, this.#place) : undefined;
  }

  /** The section that runs: the last one that has begun. */
  #section(): PathSection | undefined {
    const seconds = this.#clock.seconds;
    const sections = this.#played.picture.summary?.sections ?? [];
    return sections.filter((section) => section.startSeconds < seconds).at(-1) ?? sections[0];
  }

  #show(): void {
    if (!this.#isOpen) {
      return;
    }
    const { picture } = this.#played;
    const { pieces, summary } = picture;
    const isReady = this.#isReady();
    const total = totalSeconds(pieces);
    const seconds = this.#clock.seconds;
    const isEmpty = picture.complete && !pieces.some(({ path }) => path.vertexCount > 0);
    this.#bar.show({
      isReady,
      isRunning: this.#clock.isRunning || this.#isWaiting,
      seconds,
      total,
      elapsed: clockText(seconds),
      remaining: clockText(total - seconds),
      texts: isReady && this.#place ? this.#texts(this.#place) : [],
      words: this.#words || restText(isReady, isEmpty, summary),
    });
    this.#tell();
    this.#played.changed();
  }

  /** What the bar says of a place; which pass it is, is said where it rests. */
  #texts(place: RunPlace): string[] {
    const { pieces, inch } = this.#played.picture;
    const [line, ...others] = placeTexts(pieces, place, this.#section(), inch);
    if (this.#clock.isRunning) this.#move.forget();
    return [(!this.#clock.isRunning && this.#move.at(pieces, place)) || line, ...others];
  }

  /** Tells the editor the line that runs, at once or after a pause; what has been skipped meanwhile is left out. */
  #tell(): void {
    const line = this.#line();
    if (this.#tellTimer !== undefined || line === this.#toldLine) {
      return;
    }
    this.#toldLine = line;
    this.#played.runs(line);
    this.#tellTimer = setTimeout(() => {
      this.#tellTimer = undefined;
      this.#tell();
    }, TELL_PAUSE);
  }

  #keep(): void {
    this.#kept.write({ playback: { rate: this.#clock.rate, ...this.#choice } });
    this.#stops = stopsOf(this.#played.picture.summary, this.#choice);
  }
}

/** What was chosen when the view was here before. */
function readChoice(kept: unknown): StopChoice & { readonly rate: number } {
  const { rate, atToolChanges, atOptional } = (kept ?? {}) as { readonly [name: string]: unknown };
  return {
    rate: RATES.find((each) => each === rate) ?? 1,
    atToolChanges: atToolChanges === true,
    atOptional: atOptional === true,
  };
}

/** The system's wish, or that of the editor. */
function isMotionUnwanted(): boolean {
  return (
    document.body.classList.contains('vscode-reduce-motion') || matchMedia('(prefers-reduced-motion: reduce)').matches
  );
}

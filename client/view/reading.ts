// Reading the path: colours and their legend, what is left out, what lies beside it, the cutter, the move in words.
import { emptyBounds } from '../../server/src/core/geometry/packedLayout.ts';
import type { PathMove } from '../../server/src/core/geometry/pathRequestMove.ts';
import type { PathSection } from '../../server/src/core/geometry/pathSummary.ts';
import { project } from './camera.ts';
import { type Scale, scaleOf } from './colouredBy.ts';
import { drawCutter } from './cutterPicture.ts';
import type { FlatDrawing } from './flatSvg.ts';
import type { Frame } from './frame.ts';
import type { Kept } from './kept.ts';
import { showLegend } from './legend.ts';
import { type LitPlace, litPlace } from './litPlace.ts';
import type { FromView, SideLayer, ToView } from './messages.ts';
import { MoveTip } from './moveTip.ts';
import { drawLabel } from './overlay.ts';
import type { SeenWays } from './pick.ts';
import type { Picture, ShownPiece } from './picture.ts';
import { isZeroSeen, rulersCover } from './rulers.ts';
import type { LitLines, PathScene } from './scene.ts';
import { Sheet } from './sheet.ts';
import { kindBits, ShownChoice } from './shown.ts';
import { SideLayers } from './sideLayers.ts';
import type { Sight, Way } from './sight.ts';
import type { Theme } from './theme.ts';
import { type Hidden, hiddenWays, type SectionSpan, sectionKeys, sectionOf, sectionSpans } from './toolSections.ts';

/** What reading needs of the view around it. */
interface Around {
  readonly frame: Frame;
  readonly picture: Picture;
  scene(): PathScene | undefined;
  readonly sight: Sight;
  readonly kept: Kept;
  theme(): Theme;
  /** A run along the path is shown, with a cutter of its own. */
  isRunning(): boolean;
  say(message: FromView): void;
  explain(way: Way): Promise<PathMove | null>;
  /** What lies beside the path may reach beyond the picture. */
  grown(): void;
  /** Everything is to be drawn anew, or only what lies over the path. */
  changed(isWhole: boolean): void;
}

/** See the top of the file. */
export class Reading {
  readonly #around: Around;
  readonly #choice: ShownChoice;
  readonly #sheet: Sheet;
  readonly #sides: SideLayers;
  readonly #tip: MoveTip;
  #uri = '';
  #scale: Scale = { by: 'kind' };
  #spans: ReadonlyMap<number, readonly SectionSpan[]> = new Map();
  #hidden = new Map<number, Hidden>();
  #lit: LitLines = { first: 1, last: 0 };
  #litPlace: LitPlace | undefined;
  #timesAsked = false;

  constructor(around: Around) {
    this.#around = around;
    const { frame, sight, kept } = around;
    this.#choice = new ShownChoice(kept, () => this.refresh());
    this.#sides = new SideLayers(
      () => around.scene(),
      (message) => around.say(message),
    );
    this.#sheet = new Sheet(frame.shown, frame.desk, this.#choice, (isOn) => this.#sides.askOther(isOn));
    this.#tip = new MoveTip(frame.stage, {
      pick: (place) => sight.pick(place),
      explain: (picked) => around.explain(picked),
      camera: () => sight.camera(),
      size: () => sight.size(),
      changed: () => around.changed(false),
    });
  }

  /** A program is shown from now on, or from the beginning. */
  begin(uri: string): void {
    this.#uri = uri;
    this.#timesAsked = false;
    this.#sides.begin(uri);
    this.#choice.begin(uri);
    this.#tip.hide();
  }

  /** Takes a list or a piece of a path beside the program's own. */
  take(message: Extract<ToView, { type: 'index' | 'piece' | 'times' }>, layer: SideLayer): void {
    if (this.#sides.take(message, layer)) {
      this.#around.grown();
    }
  }

  /** A program is laid over this one, or none any longer. */
  layOver(name: string | undefined): void {
    this.#sides.lay(name);
    this.#around.grown();
    this.refresh();
  }

  /** The path, its colours or what is shown of it are others. */
  refresh(): void {
    const { picture } = this.#around;
    const { pieces, summary } = picture;
    const shown = this.#choice.now;
    const hidden = new Set(this.hiddenSections);
    this.#spans = sectionSpans(pieces, this.#sections);
    this.#hidden = new Map(
      pieces.map((piece) => [piece.id, hiddenWays(piece, this.#spans.get(piece.id) ?? [], hidden)]),
    );
    this.#scale = scaleOf(shown.colouredBy, pieces, picture.bounds('cutBounds'), summary?.seconds ?? 0);
    this.#around.scene()?.dress(pieces, {
      scale: this.#scale,
      kinds: kindBits(shown),
      hidden: ({ id }) => this.#hidden.get(id) ?? 'nothing',
    });
    this.#around.frame.marks.hidden = !this.#choice.shows('findings');
    this.#sides.wantContour(this.#choice.shows('contour'), pieces);
    this.#askTimes();
    this.#litPlace = litPlace(pieces, this.#lit);
    this.#showWords();
    this.#around.changed(true);
  }

  /** Lines are lit. */
  light(lit: LitLines): void {
    this.#lit = lit;
    this.#litPlace = litPlace(this.#around.picture.pieces, lit);
  }

  /** The pointer is at a place, or has left; a tool that needs it for itself says undefined. */
  pointed(place: { readonly x: number; readonly y: number } | undefined): void {
    this.#tip.pointed(place);
  }

  /** Opens the sheet or closes it. */
  toggleSheet(): void {
    this.#sheet.toggle();
  }

  /** Colours by the next thing in the list. */
  colourByNext(): void {
    this.#choice.colourByNext();
  }

  /** Shows rapids or leaves them out. */
  toggleKind(kind: number): void {
    this.#choice.showKind(kind, this.#choice.now.hiddenKinds.includes(kind));
  }

  /** Which ways of a piece can be seen and therefore be picked. */
  seenOf({ id }: ShownPiece): SeenWays {
    return { kinds: kindBits(this.#choice.now), hidden: this.#hidden.get(id) ?? 'nothing' };
  }

  /** Values of `PathStyle` that are left out. */
  get hiddenKinds(): readonly number[] {
    return this.#choice.now.hiddenKinds;
  }

  /** Places in the list of tool sections that are left out. */
  get hiddenSections(): readonly number[] {
    const { hiddenSections } = this.#choice.now;
    return sectionKeys(this.#sections).flatMap((key, i) => (hiddenSections.includes(key) ? [i] : []));
  }

  /** What is drawn in which colours, for a drawing without WebGL; each part is another object once it has changed. */
  get flatLook(): Pick<FlatDrawing, 'hiddenKinds' | 'hidden' | 'scale' | 'contour' | 'other'> {
    const { contourPieces: contour, otherPieces: other } = this.#sides;
    return { hiddenKinds: this.hiddenKinds, hidden: this.#hidden, scale: this.#scale, contour, other };
  }

  /** Least and greatest X Y Z of what lies beside the path; least above greatest where that is nothing. */
  bounds(): Float64Array {
    const all = emptyBounds();
    for (const { path } of this.#sides.otherPieces) {
      for (let axis = 0; axis < 3; axis++) {
        all[axis] = Math.min(all[axis], path.bounds[axis]);
        all[axis + 3] = Math.max(all[axis + 3], path.bounds[axis + 3]);
      }
    }
    return all;
  }

  /** Draws the cutter behind the path. */
  drawBehind(context: CanvasRenderingContext2D): void {
    const place = this.#litPlace;
    if (!place || !this.#choice.shows('cutter') || this.#around.isRunning()) {
      return;
    }
    const { sight } = this.#around;
    const section = this.#sections[sectionOf(this.#spans, place)];
    drawCutter(context, sight.camera(), sight.size(), this.#around.theme(), section?.tool, place.at);
  }

  /** Draws the names of the work offsets at their zero, and the centre of the arc under the pointer. */
  drawOver(context: CanvasRenderingContext2D): void {
    const { sight, picture } = this.#around;
    const theme = this.#around.theme();
    const names = picture.summary?.offsets ?? [];
    const zero = project(sight.camera(), sight.size(), [0, 0, 0]);
    const { height } = sight.size();
    if (this.#choice.shows('offsets') && names.length > 0 && isZeroSeen(sight.camera(), sight.size())) {
      const text = offsetsText(names);
      const half = context.measureText(text).width / 2;
      // Beside the rulers, which lie over it.
      const { left, bottom } = rulersCover(sight.camera().view);
      const [x, y] = [Math.max(left + half + 6, zero.x - half - 14), Math.min(height - bottom - 10, zero.y + 16)];
      drawLabel(context, theme, sight.size(), text, x, y);
    }
    this.#tip.draw(context, sight.camera(), theme, picture.inch);
  }

  get #sections(): readonly PathSection[] {
    return this.#around.picture.summary?.sections ?? [];
  }

  /** Times are big: they are asked for when colours are to tell them. */
  #askTimes(): void {
    if (this.#scale.by === 'time' && !this.#timesAsked && this.#uri !== '') {
      this.#timesAsked = true;
      this.#around.say({ type: 'times', uri: this.#uri });
    }
  }

  #showWords(): void {
    const { frame, picture } = this.#around;
    const theme = this.#around.theme();
    const { inch } = picture;
    showLegend(frame.legend, this.#scale, theme, inch);
    this.#sheet.show({
      scale: this.#scale,
      theme,
      inch,
      sections: this.#sections,
      moreSections: picture.summary?.moreSections ?? 0,
      other: this.#sides.other,
    });
    const { hiddenKinds, hiddenSections } = this;
    const isPart = hiddenKinds.length > 0 || hiddenSections.length > 0;
    frame.shown.textContent = isPart ? 'Show… (part)' : 'Show…';
  }
}

/** Most names that are written at one zero. */
const MOST_NAMES = 4;

/** Work offsets that are drawn at one zero. */
const offsetsText = (names: readonly string[]): string =>
  names.length <= MOST_NAMES
    ? names.join(', ')
    : `${names.slice(0, MOST_NAMES).join(', ')} and ${names.length - MOST_NAMES} more`;

// The path view: puts its parts together, takes messages, and has drawn anew what they change.
import type { PathMove } from '../../server/src/core/geometry/pathRequestMove.ts';
import { HEIGHT_ROOM } from './boundingBox.ts';
import { type Point, project, type ViewName } from './camera.ts';
import { depthSeen } from './cameraDepth.ts';
import { CameraKeeper } from './cameraKeeper.ts';
import { Explanations } from './explain.ts';
import { FollowSwitch } from './follow.ts';
import { buildFrame, type Frame } from './frame.ts';
import { listenToInputs } from './inputs.ts';
import { Kept } from './kept.ts';
import { Marks } from './marks.ts';
import { MeasureTool } from './measureTool.ts';
import type { FromView, ToView } from './messages.ts';
import { Painting } from './painting.ts';
import { type PickedPlace, placeOf } from './pickedPlace.ts';
import { Picture } from './picture.ts';
import { PicturesOut } from './picturesOut.ts';
import { Playback } from './playback.ts';
import { Reading } from './reading.ts';
import { copyText } from './readout.ts';
import { rulersCover } from './rulers.ts';
import { ShownGhost } from './shownGhost.ts';
import { Sight, type Way } from './sight.ts';
import { SpaceTools } from './standardViews.ts';
import { Summary } from './summary.ts';
import { readTheme } from './theme.ts';
import type { ViewState } from './viewState.ts';

/** What the view runs in. */
export interface Host {
  postMessage(message: FromView): void;
  getState(): unknown;
  setState(state: unknown): void;
}

const NOTHING_LIT = { first: 1, last: 0 };

/** The view of one window. */
export class PathApp {
  readonly #host: Host;
  readonly #kept: Kept;
  readonly #frame: Frame;
  readonly #state: ViewState;
  readonly #picture = new Picture();
  readonly #keeper: CameraKeeper;
  readonly #painting: Painting;
  readonly #sight: Sight;
  readonly #reading: Reading;
  readonly #ghost: ShownGhost;
  readonly #explanations: Explanations;
  readonly #measure: MeasureTool;
  readonly #spaceTools: SpaceTools;
  readonly #follow: FollowSwitch;
  readonly #playback: Playback;
  readonly #marks: Marks;
  readonly #summary = new Summary();
  /** Nothing whole of this program has been fitted into the picture yet. */
  #fresh = true;

  constructor(into: HTMLElement, host: Host) {
    this.#host = host;
    this.#frame = buildFrame(into);
    this.#kept = new Kept(host);
    this.#state = {
      uri: '',
      name: '',
      size: { width: 1, height: 1 },
      theme: readTheme(document.body),
      lit: NOTHING_LIT,
      trouble: '',
      isBoxShown: this.#kept.read('box') !== false,
      pointer: undefined,
    };
    this.#keeper = this.#makeKeeper();
    this.#painting = this.#makePainting();
    this.#ghost = new ShownGhost(this.#keeper, () => this.#painting.scene);
    this.#sight = new Sight(
      this.#picture,
      this.#keeper,
      () => this.#state.size,
      (piece) => this.#reading.seenOf(piece),
    );
    this.#reading = this.#makeReading();
    this.#explanations = new Explanations((message) => host.postMessage(message));
    this.#measure = this.#makeMeasure();
    this.#frame.desk.after(this.#measure.panel.element);
    this.#spaceTools = new SpaceTools({
      turn: (change) => this.#keeper.turnTo(change),
      showBox: (shown) => this.#showBox(shown),
    });
    this.#frame.fitLit.after(this.#spaceTools.element);
    this.#follow = new FollowSwitch(this.#frame.follow, this.#kept, (isOn) =>
      host.postMessage({ type: 'follow', isOn }),
    );
    this.#playback = this.#makePlayback();
    this.#marks = new Marks(this.#frame.marks, (line) => this.#goToLine(line));
    this.#frame.measure.after(this.#makeOut().element);
    into.append(this.#summary.element);
    this.#listen();
    if (this.#painting.flat) {
      this.#turnTo(this.#keeper.camera.view);
    }
    this.#resize();
  }

  /** Takes a message of the extension. */
  take(message: ToView): void {
    if (message.type === 'trouble') {
      this.#state.trouble = `The path is not up to date: ${message.text}.`;
    } else if (message.type === 'follows') {
      this.#follow.take(message.isOn);
    } else if (message.type === 'program') {
      this.#state.name = message.name;
      this.#begin(message.uri);
    } else if (message.uri === this.#state.uri) {
      this.#takeOfProgram(message);
    }
    this.#painting.ask();
  }

  /** Where a point of the work is seen, CSS pixels of the page. For tests. */
  project(point: Point): { x: number; y: number } {
    const { left, top } = this.#frame.canvas.getBoundingClientRect();
    const { x, y } = project(this.#keeper.camera, this.#state.size, point);
    return { x: x + left, y: y + top };
  }

  /** The colour at a place of the page: the path over what lies behind it. For tests. */
  pixel(x: number, y: number): [number, number, number] {
    return this.#painting.pixel(x, y);
  }

  #makeKeeper(): CameraKeeper {
    return new CameraKeeper(this.#kept, {
      size: () => this.#state.size,
      covered: (view) => ({
        top: this.#painting.top,
        ...rulersCover(view),
        right: view === 'space' && this.#state.isBoxShown ? HEIGHT_ROOM : 0,
      }),
      bounds: () => this.#painting.bounds(),
      depth: (camera) => depthSeen(this.#picture.pieces, camera, this.#state.size),
      changed: () => this.#painting.moved(),
    });
  }

  #makePainting(): Painting {
    return new Painting(this.#frame, this.#state, this.#picture, this.#keeper, () => ({
      sight: this.#sight,
      reading: this.#reading,
      measure: this.#measure,
      playback: this.#playback,
      marks: this.#marks,
      ghost: this.#ghost,
      spaceTools: this.#spaceTools,
    }));
  }

  #makeReading(): Reading {
    return new Reading({
      frame: this.#frame,
      picture: this.#picture,
      scene: () => this.#painting.scene,
      sight: this.#sight,
      kept: this.#kept,
      theme: () => this.#state.theme,
      isRunning: () => this.#playback.isOpen,
      say: (message) => this.#host.postMessage(message),
      explain: (way) => this.#explain(way),
      grown: () => {
        if (this.#keeper.follows && !this.#keeper.holdsAll()) {
          this.#keeper.refit();
        }
      },
      changed: (isWhole) => this.#painting.ask(isWhole),
    });
  }

  #makeMeasure(): MeasureTool {
    return new MeasureTool(this.#frame.measure, this.#sight, {
      explain: (picked) => this.#explain(picked),
      pointer: () => this.#state.pointer,
      movePointer: (place) => {
        this.#state.pointer = place;
        this.#painting.ask(false);
      },
      copy: copyText,
      changed: () => this.#painting.ask(false),
    });
  }

  #makePlayback(): Playback {
    return new Playback(this.#frame.play, this.#kept, {
      picture: this.#picture,
      explain: (way) => this.#explain(way),
      wantTimes: () => this.#host.postMessage({ type: 'times', uri: this.#state.uri }),
      runs: (line) =>
        this.#host.postMessage({ type: 'runs', uri: this.#state.uri, ...(line !== undefined && { line }) }),
      changed: () => this.#painting.ask(),
    });
  }

  #makeOut(): PicturesOut {
    return new PicturesOut({
      frame: this.#frame,
      picture: this.#picture,
      flat: this.#painting.flat,
      program: () => ({ uri: this.#state.uri, name: this.#state.name }),
      view: () => this.#keeper.camera.view,
      theme: () => this.#state.theme,
      hidden: () => ({ kinds: this.#reading.hiddenKinds, sections: this.#reading.hiddenSections }),
      draw: () => this.#painting.draw(),
      say: (message) => this.#host.postMessage(message),
    });
  }

  #listen(): void {
    listenToInputs({
      frame: this.#frame,
      state: this.#state,
      keeper: this.#keeper,
      sight: this.#sight,
      reading: this.#reading,
      measure: this.#measure,
      ghost: this.#ghost,
      spaceTools: this.#spaceTools,
      turnTo: (view) => this.#turnTo(view),
      picked: (found) => this.#goToLine(found.line, placeOf(this.#picture.pieces, found)),
      pointed: () => this.#painting.ask(false),
      resized: () => this.#resize(),
      rethemed: () => {
        this.#painting.retheme();
        this.#reading.refresh();
        this.#painting.ask();
      },
    });
  }

  #begin(uri: string): void {
    if (uri !== this.#state.uri) {
      this.#playback.begin();
      this.#picture.clear();
      this.#explanations.forget();
      this.#measure.clear();
      this.#marks.show([]);
      this.#painting.scene?.show([]);
      this.#ghost.show();
      this.#state.lit = NOTHING_LIT;
      this.#state.uri = uri;
      this.#keeper.begin(uri);
      this.#reading.light(NOTHING_LIT);
      this.#kept.write({ program: uri });
      this.#fresh = true;
    }
    this.#state.trouble = '';
    this.#reading.begin(uri);
  }

  #takeOfProgram(message: Exclude<ToView, { type: 'trouble' | 'program' | 'follows' }>): void {
    if (message.type === 'lit') {
      this.#state.lit = message;
      this.#reading.light(message);
    } else if (message.type === 'ghost') {
      this.#ghost.show(message.data, message.isBlock, message.gone);
    } else if (message.type === 'explained') {
      this.#explanations.take(message.ticket, message.move);
    } else if (message.type === 'over') {
      this.#reading.layOver(message.name);
    } else if (message.layer) {
      this.#reading.take(message, message.layer);
    } else if (message.type === 'times') {
      if (this.#picture.takeTimes(message.id, message.data)) {
        this.#reading.refresh();
      }
      this.#playback.pathChanged();
    } else {
      this.#takePath(message);
    }
  }

  /** A list or a piece of the program's own path. */
  #takePath(message: Extract<ToView, { type: 'index' | 'piece' }>): void {
    this.#state.trouble = '';
    const changed =
      message.type === 'index'
        ? this.#picture.takeIndex(message.index)
        : this.#picture.takePiece(message.id, message.data);
    if (changed) {
      this.#measure.clear();
      this.#painting.scene?.show(this.#picture.pieces);
      this.#reading.refresh();
    }
    this.#playback.pathChanged();
    if (this.#picture.complete) {
      this.#marks.show(this.#picture.findings);
      this.#summary.say(this.#state.name, this.#picture);
    }
    if (changed && this.#keeper.follows && (this.#fresh || !this.#keeper.holdsAll())) {
      this.#keeper.refit();
      this.#fresh = !(this.#picture.complete && this.#picture.bounds('bounds')[0] < Infinity);
    }
  }

  #explain(picked: Way): Promise<PathMove | null> {
    const place = placeOf(this.#picture.pieces, picked);
    return this.#explanations.ask({ uri: this.#state.uri, line: picked.line, ...place });
  }

  /** Another view; space is none without WebGL. */
  #turnTo(view: ViewName): void {
    this.#keeper.turnTo({ view: view === 'space' && this.#painting.flat ? 'top' : view });
  }

  #showBox(shown: boolean): void {
    this.#state.isBoxShown = shown;
    this.#kept.write({ box: shown });
    this.#painting.ask();
  }

  #goToLine(line: number, place: Partial<PickedPlace> = {}): void {
    this.#host.postMessage({ type: 'goToLine', uri: this.#state.uri, line, ...place });
  }

  #resize(): void {
    this.#painting.resize();
    if (this.#picture.pieces.length > 0 || this.#ghost.path) {
      this.#keeper.refit();
    }
    this.#painting.ask();
  }
}

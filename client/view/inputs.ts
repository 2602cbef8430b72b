// What the user does with pointer, keys and buttons, handed to the part of the view that it is for.
import { PathStyle } from '../../server/src/core/geometry/packedLayout.ts';
import type { ViewName } from './camera.ts';
import type { CameraKeeper } from './cameraKeeper.ts';
import { listenForKeys } from './controlKeys.ts';
import { control } from './controls.ts';
import type { Frame } from './frame.ts';
import type { MeasureTool } from './measureTool.ts';
import type { Picked } from './pick.ts';
import type { Reading } from './reading.ts';
import type { ShownGhost } from './shownGhost.ts';
import type { Sight } from './sight.ts';
import type { SpaceTools } from './standardViews.ts';
import type { ViewState } from './viewState.ts';

/** The parts that are told, and what only the conductor can do. */
export interface InputParts {
  readonly frame: Frame;
  readonly state: ViewState;
  readonly keeper: CameraKeeper;
  readonly sight: Sight;
  readonly reading: Reading;
  readonly measure: MeasureTool;
  readonly ghost: ShownGhost;
  readonly spaceTools: SpaceTools;
  turnTo(view: ViewName): void;
  /** A place on the path was clicked. */
  picked(found: Picked): void;
  /** What lies over the path is to be drawn anew. */
  pointed(): void;
  resized(): void;
  rethemed(): void;
}

/** Listens from now on. */
export function listenToInputs(parts: InputParts): void {
  const { frame, state, keeper, sight } = parts;
  listenToPointer(parts);
  for (const [view, button] of frame.views) {
    button.addEventListener('click', () => parts.turnTo(view));
  }
  frame.fit.addEventListener('click', () => keeper.fitAll());
  frame.fitLit.addEventListener('click', () => sight.fitLit(state.lit));
  listenToKeys(parts);
  const sizes = new ResizeObserver(() => parts.resized());
  sizes.observe(frame.canvas);
  // What is fitted in, and the rulers, begin below the buttons, which may need another row in another view.
  sizes.observe(frame.tools);
  new MutationObserver(() => parts.rethemed()).observe(document.body, { attributeFilter: ['class', 'style'] });
}

function listenToPointer(parts: InputParts): void {
  const { frame, state, keeper, sight, reading, measure, ghost } = parts;
  control(frame.canvas, {
    camera: () => keeper.camera,
    size: () => state.size,
    moved: (camera) => keeper.look(camera),
    aimed: (camera, x, y) => sight.aimed(camera, x, y),
    pointer: (place) => {
      state.pointer = place;
      measure.pointed();
      reading.pointed(measure.isOn || ghost.path ? undefined : place);
      parts.pointed();
    },
    keyed: (event) => measure.key(event),
    clicked: (x, y) => {
      if (measure.isOn) {
        measure.click({ x, y });
        return;
      }
      const found = sight.pick({ x, y });
      if (found) {
        parts.picked(found);
      }
    },
  });
}

function listenToKeys(parts: InputParts): void {
  const { state, keeper, sight, reading, measure, spaceTools } = parts;
  listenForKeys(document, {
    turnTo: (view) => parts.turnTo(view),
    fitAll: () => keeper.fitAll(),
    fitLit: () => sight.fitLit(state.lit),
    switchLens: () => spaceTools.switchLens(),
    switchBox: () => spaceTools.switchBox(),
    measure: () => measure.toggle(),
    sheet: () => reading.toggleSheet(),
    colourByNext: () => reading.colourByNext(),
    rapids: () => reading.toggleKind(PathStyle.rapid),
    copy: () => void measure.copy(),
  });
}

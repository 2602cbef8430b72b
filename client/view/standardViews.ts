// What only the view in space has: the directions to look from, perspective, and the box about the path.
import type { Camera, Lens } from './camera.ts';

/** A direction to look from, degrees; see `Camera`. */
interface Direction {
  readonly label: string;
  readonly azimuth: number;
  readonly elevation: number;
}

const DIRECTIONS: readonly Direction[] = [
  { label: 'a corner', azimuth: 30, elevation: 35 },
  { label: 'the front', azimuth: 0, elevation: 0 },
  { label: 'the right', azimuth: 90, elevation: 0 },
  { label: 'the back', azimuth: 180, elevation: 0 },
  { label: 'the left', azimuth: 270, elevation: 0 },
  { label: 'above', azimuth: 0, elevation: 90 },
  { label: 'below', azimuth: 0, elevation: -90 },
];

/** Number of the direction in the list that the camera looks from; −1 if it was turned elsewhere. */
export function directionOf({ azimuth, elevation }: Pick<Camera, 'azimuth' | 'elevation'>): number {
  const turns = (a: number, b: number): number => (a - b) / 360 - Math.round((a - b) / 360);
  return DIRECTIONS.findIndex(
    (one) => Math.abs(turns(one.azimuth, azimuth)) < 1e-6 && Math.abs(one.elevation - elevation) < 1e-6,
  );
}

/** What the buttons of the view in space do. */
export interface SpaceActions {
  turn(change: { azimuth?: number; elevation?: number; lens?: Lens }): void;
  showBox(shown: boolean): void;
}

/** The choices that are there in space only. */
export class SpaceTools {
  readonly element = document.createElement('span');
  readonly #actions: SpaceActions;
  readonly #from = document.createElement('select');
  readonly #perspective: HTMLButtonElement;
  readonly #box: HTMLButtonElement;
  #isBoxShown = true;
  #lens: Lens = 'parallel';

  constructor(actions: SpaceActions) {
    this.#actions = actions;
    this.element.className = 'group';
    this.element.hidden = true;
    this.#from.className = 'tool';
    this.#from.title = 'Direction to look from';
    this.#from.setAttribute('aria-label', this.#from.title);
    this.#from.append(
      new Option('from …', ''),
      ...DIRECTIONS.map(({ label }, i) => new Option(`from ${label}`, `${i}`)),
    );
    this.#from.addEventListener('change', () => this.#turn());
    this.#perspective = toggle('Perspective', 'As an eye sees it, near things larger (P)');
    this.#perspective.addEventListener('click', () => this.switchLens());
    this.#box = toggle('Box', 'Box about the cuts with its sizes (B)');
    this.#box.addEventListener('click', () => this.switchBox());
    this.element.append(this.#from, this.#perspective, this.#box);
  }

  /** Shows how the camera looks now, and whether the box is drawn. */
  show(camera: Camera, isBoxShown: boolean): void {
    this.element.hidden = camera.view !== 'space';
    this.#isBoxShown = isBoxShown;
    this.#lens = camera.lens ?? 'parallel';
    const direction = directionOf(camera);
    this.#from.value = direction < 0 ? '' : `${direction}`;
    this.#perspective.setAttribute('aria-pressed', String(this.#lens === 'perspective'));
    this.#box.setAttribute('aria-pressed', String(isBoxShown));
  }

  /** With perspective, or without it again. */
  switchLens(): void {
    this.#actions.turn({ lens: this.#lens === 'perspective' ? 'parallel' : 'perspective' });
  }

  /** The box is drawn, or no longer. */
  switchBox(): void {
    this.#actions.showBox(!this.#isBoxShown);
  }

  #turn(): void {
    const direction = DIRECTIONS[Number.parseInt(this.#from.value, 10)];
    if (direction) {
      this.#actions.turn({ azimuth: direction.azimuth, elevation: direction.elevation });
    }
  }
}

function toggle(label: string, title: string): HTMLButtonElement {
  const button = document.createElement('button');
  button.type = 'button';
  button.className = 'tool';
  button.textContent = label;
  button.title = title;
  return button;
}

// Paths beside the program's own: the contour as programmed, and a second program.
import { ROW_WIDTH, RowBit, RowField } from '../../server/src/core/geometry/packedLayout.ts';
import type { FromView, SideLayer, ToView } from './messages.ts';
import { Picture, type ShownPiece } from './picture.ts';
import type { PathScene } from './scene.ts';

/** A message with a list or a piece of a path. */
type PathMessage = Extract<ToView, { type: 'index' | 'piece' | 'times' }>;

/** See the top of the file. */
export class SideLayers {
  readonly #scene: () => PathScene | undefined;
  readonly #say: (message: FromView) => void;
  readonly #pictures: Readonly<Record<SideLayer, Picture>> = { contour: new Picture(), other: new Picture() };
  #uri = '';
  #hasContour = false;
  /** Name of the second program. */
  #other: string | undefined;

  constructor(scene: () => PathScene | undefined, say: (message: FromView) => void) {
    this.#scene = scene;
    this.#say = say;
  }

  /** Name of the program that is laid over. */
  get other(): string | undefined {
    return this.#other;
  }

  /** The pieces of the second program. */
  get otherPieces(): readonly ShownPiece[] {
    return this.#pictures.other.pieces;
  }

  /** The pieces of the contour as programmed. */
  get contourPieces(): readonly ShownPiece[] {
    return this.#pictures.contour.pieces;
  }

  /** Another program is shown, or the same one from the beginning. */
  begin(uri: string): void {
    this.#uri = uri;
    this.#hasContour = false;
    this.#clear('contour');
    this.lay(undefined);
  }

  /** Another program is laid over this one, or none is. */
  lay(name: string | undefined): void {
    this.#other = name;
    this.#clear('other');
  }

  /** Asks for another program, or takes it off. */
  askOther(isOn: boolean): void {
    this.#say({ type: 'side', uri: this.#uri, layer: 'other', isOn });
  }

  /** The contour is wanted where the program is compensated. */
  wantContour(isWanted: boolean, pieces: readonly ShownPiece[]): void {
    const isOn = isWanted && pieces.some(isCompensated);
    if (isOn !== this.#hasContour) {
      this.#hasContour = isOn;
      this.#say({ type: 'side', uri: this.#uri, layer: 'contour', isOn });
      if (!isOn) {
        this.#clear('contour');
      }
    }
  }

  /** Takes a message of a layer; true if another path is drawn now. */
  take(message: PathMessage, layer: SideLayer): boolean {
    const picture = this.#pictures[layer];
    if (message.type === 'times' || (layer === 'contour' && !this.#hasContour)) {
      return false;
    }
    const changed =
      message.type === 'index' ? picture.takeIndex(message.index) : picture.takePiece(message.id, message.data);
    if (!changed || !picture.complete) {
      return false;
    }
    this.#scene()?.showSide(layer, picture.pieces);
    return true;
  }

  #clear(layer: SideLayer): void {
    this.#pictures[layer].clear();
    this.#scene()?.showSide(layer, []);
  }
}

const isCompensated = ({ path: { rows } }: ShownPiece): boolean => {
  for (let at = RowField.bits; at < rows.length; at += ROW_WIDTH) {
    if ((rows[at] & RowBit.compensated) !== 0) {
      return true;
    }
  }
  return false;
};

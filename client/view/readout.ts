// The words below the picture: what is under the pointer, and how words are set.
import { type PackedPath, UNKNOWN_TOOL } from '../../server/src/core/geometry/packedLayout.ts';
import { AXIS_NAMES, PLANE_AXES } from './backdrop.ts';
import { type Camera, pointAt, type Size } from './camera.ts';
import type { Frame } from './frame.ts';
import { extentTexts, lengthText, unitName } from './numbers.ts';
import type { Picked } from './pick.ts';
import type { Picture } from './picture.ts';

const NO_MOVES =
  'No moves to show: the program does not move yet, or no position is known before its first X, Y and Z.';

/**
 * Sets the words on the program: how far it reaches, what is assumed of it, what is wrong with the picture. `lost` stands in
 * the middle while nothing can be drawn. What a `ghost` gives, the program would have with it.
 */
export function showWords(
  { notice, notes, extents }: Frame,
  picture: Picture,
  trouble: string,
  lost: string,
  isEmpty: boolean,
  ghost?: Pick<PackedPath, 'assumedAxes'>,
): void {
  const { inch, complete, assumedAxes, unplaced } = picture;
  setText(notice, lost || (complete && isEmpty ? NO_MOVES : ''));
  notice.hidden = notice.textContent === '';
  const cut = extentTexts(picture.bounds('cutBounds'), inch);
  setParts(extents, cut.length > 0 ? [`Cut, ${unitName(inch)}:`, ...cut] : []);
  const assumed = AXIS_NAMES.filter((_, axis) => assumedAxes & (ghost?.assumedAxes ?? assumedAxes) & (1 << axis)).map(
    (axis) => `${axis} is never given: drawn at ${axis}0.`,
  );
  const missing = unplaced === 0 ? '' : `${unplaced} more finding${unplaced === 1 ? '' : 's'} without a mark here.`;
  setText(notes, [trouble, ...assumed, complete ? missing : ''].filter(Boolean).join(' '));
}

/** The position under the pointer in a flat view, and the line and tool of the path there. */
export function pointerText(
  camera: Camera,
  size: Size,
  { x, y }: { readonly x: number; readonly y: number },
  inch: boolean,
  found: Picked | undefined,
): string {
  const parts: string[] = [];
  if (camera.view !== 'space') {
    const at = pointAt(camera, size, x, y);
    for (const axis of PLANE_AXES[camera.view]) {
      parts.push(`${AXIS_NAMES[axis]} ${lengthText(at[axis], inch)}`);
    }
    parts.push(unitName(inch));
  }
  if (found) {
    parts.push(`line ${found.line + 1}${found.tool === UNKNOWN_TOOL ? '' : `, T${found.tool}`}`);
  }
  return parts.join('  ');
}

/** Sets a text where it is another one, so that nothing is read out twice. */
export function setText(element: HTMLElement, text: string): void {
  if (element.textContent !== text) {
    element.textContent = text;
  }
}

/** Sets texts that are not to be broken inside. */
export function setParts(element: HTMLElement, texts: readonly string[]): void {
  if (element.textContent !== texts.join('')) {
    element.replaceChildren(
      ...texts.map((text) => {
        const span = document.createElement('span');
        span.textContent = text;
        return span;
      }),
    );
  }
}

/** Puts a text on the clipboard; false if the window may not. */
export async function copyText(text: string): Promise<boolean> {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    return false;
  }
}

/** What is asked for when the view's path is to be saved as a drawing to scale. */
import { isFields, isWhole } from './pathRequestChecks.ts';

/** Kinds of move as the view tells them apart: `cut` straight at feed, `plunge` straight along Z, `arc` in its plane. */
const DRAWN_KINDS = ['rapid', 'cut', 'plunge', 'arc', 'helix'] as const;
export type DrawnKind = (typeof DRAWN_KINDS)[number];

/** The drawing of a program's path in one plane. */
export interface PathDrawingRequest {
  readonly uri: string;
  readonly plane: 'XY' | 'ZX' | 'YZ';
  /** Of the dimensions; the drawing itself is always to scale in millimetres. */
  readonly units: 'mm' | 'inch';
  /** What is left out: kinds of move, and tool sections by their place in `PathSummary.sections`. */
  readonly hiddenKinds?: readonly DrawnKind[];
  readonly hiddenSections?: readonly number[];
}

const isListOfAll = (value: unknown, passes: (one: unknown) => boolean): boolean =>
  value === undefined || (Array.isArray(value) && value.every(passes));

/** True if the value is a request as the view sends it. */
export function isPathDrawingRequest(value: unknown): value is PathDrawingRequest {
  if (!isFields(value)) return false;
  const { uri, plane, units, hiddenKinds, hiddenSections } = value;
  return (
    typeof uri === 'string' &&
    (plane === 'XY' || plane === 'ZX' || plane === 'YZ') &&
    (units === 'mm' || units === 'inch') &&
    isListOfAll(hiddenKinds, (kind) => (DRAWN_KINDS as readonly unknown[]).includes(kind)) &&
    isListOfAll(hiddenSections, (section) => isWhole(section))
  );
}

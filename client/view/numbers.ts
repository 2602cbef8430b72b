// How lengths are written: millimetres to three places, inches to four, as on a drawing.
const MM_PER_INCH = 25.4;

/** A length in mm as text in the program's unit, without the unit; minus as in text. */
export function lengthText(millimetres: number, inch: boolean): string {
  const text = inch ? (millimetres / MM_PER_INCH).toFixed(4) : millimetres.toFixed(3);
  return /^-0\.?0*$/.test(text) ? text.slice(1) : text.replace('-', '−');
}

/** An angle in degrees to three places, with its sign. */
export function angleText(degrees: number): string {
  const text = degrees.toFixed(3);
  return `${/^-0\.?0*$/.test(text) ? text.slice(1) : text.replace('-', '−')}°`;
}

/** The unit's name. */
export const unitName = (inch: boolean): string => (inch ? 'in' : 'mm');

/** From where to where and how far, for the axes that have bounds; empty where nothing is drawn. */
export function extentTexts(bounds: ArrayLike<number>, inch: boolean): string[] {
  if (!(bounds[0] <= bounds[3])) {
    return [];
  }
  return ['X', 'Y', 'Z'].map((axis, i) => {
    const [least, greatest] = [bounds[i], bounds[i + 3]];
    const way = lengthText(greatest - least, inch);
    return `${axis} ${lengthText(least, inch)} to ${lengthText(greatest, inch)} = ${way}`;
  });
}

/** The distance of grid lines in mm: 1, 2 or 5 times a power of ten of the unit, at least `least` pixels apart. */
export function gridStep(scale: number, inch: boolean, least = 24): number {
  const unit = inch ? MM_PER_INCH : 1;
  const wanted = least / scale / unit;
  const power = 10 ** Math.floor(Math.log10(wanted));
  const step = [1, 2, 5, 10].find((factor) => factor * power >= wanted * (1 - 1e-9)) ?? 10;
  return step * power * unit;
}

/** A grid line's number, as short as its step allows. */
export function gridText(millimetres: number, step: number, inch: boolean): string {
  const unit = inch ? MM_PER_INCH : 1;
  const places = Math.max(0, -Math.floor(Math.log10(step / unit) + 1e-9));
  const text = (millimetres / unit).toFixed(places);
  return /^-0\.?0*$/.test(text) ? text.slice(1) : text.replace('-', '−');
}

/** The floor F, medians and a line of the table. */

/** Middle value. */
export const median = (values: readonly number[]): number => quantile(values, 0.5);

/** Value below which the share `q` of the values lies. */
export const quantile = (values: readonly number[], q: number): number => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * q))];
};

/** Milliseconds that `work` takes. */
export const timed = (work: () => unknown): number => {
  const start = performance.now();
  work();
  return performance.now() - start;
};

/** One pass over the text: each character code read, line ends counted. */
const countLines = (text: string): number => {
  let lines = 0;
  for (let i = 0; i < text.length; i++) if (text.charCodeAt(i) === 10) lines++;
  return lines;
};

let kept = 0;

/** Milliseconds of one pass. */
const pass = (text: string): number =>
  timed(() => {
    kept += countLines(text);
  });

/** F: median of `times` passes over the text, ms. */
export const floorOf = (text: string, times = 7): number => {
  pass(text);
  const result = median(Array.from({ length: times }, () => pass(text)));
  return Number.isFinite(kept) ? result : 0;
};

/** Collects garbage where node was started with --expose-gc. */
export const collect = (): void => {
  (globalThis as { gc?: () => void }).gc?.();
};

/** Prints a row: what, the figure, what is required. */
export const row = (what: string, figure: string, required: string): void => {
  process.stdout.write(`| ${what} | ${figure} | ${required} |\n`);
};

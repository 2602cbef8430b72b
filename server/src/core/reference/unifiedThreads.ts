/**
 * Unified inch screw threads.
 * Source: ASME B1.1, series UNC, UNF and UNEF (1-14 is UNS), typed from memory.
 */

export type UnifiedSeries = 'UNC' | 'UNF' | 'UNEF' | 'UNS';

/** One size of one series: its name without the thread count, major diameter in inches, threads an inch. */
export interface UnifiedThreadSize {
  readonly size: string;
  readonly diameterInch: number;
  readonly threadsPerInch: number;
  readonly series: UnifiedSeries;
}

/** name, major diameter in inches, threads an inch of UNC, UNF, UNEF; 0 where the series has no such size. */
type Row = readonly [size: string, diameterInch: number, coarse: number, fine: number, extraFine: number];

const rows: readonly Row[] = [
  ['#0', 0.06, 0, 80, 0],
  ['#1', 0.073, 64, 72, 0],
  ['#2', 0.086, 56, 64, 0],
  ['#3', 0.099, 48, 56, 0],
  ['#4', 0.112, 40, 48, 0],
  ['#5', 0.125, 40, 44, 0],
  ['#6', 0.138, 32, 40, 0],
  ['#8', 0.164, 32, 36, 0],
  ['#10', 0.19, 24, 32, 0],
  ['#12', 0.216, 24, 28, 32],
  ['1/4', 0.25, 20, 28, 32],
  ['5/16', 0.3125, 18, 24, 32],
  ['3/8', 0.375, 16, 24, 32],
  ['7/16', 0.4375, 14, 20, 28],
  ['1/2', 0.5, 13, 20, 28],
  ['9/16', 0.5625, 12, 18, 24],
  ['5/8', 0.625, 11, 18, 24],
  ['11/16', 0.6875, 0, 0, 24],
  ['3/4', 0.75, 10, 16, 20],
  ['13/16', 0.8125, 0, 0, 20],
  ['7/8', 0.875, 9, 14, 20],
  ['15/16', 0.9375, 0, 0, 20],
  ['1', 1, 8, 12, 20],
  ['1 1/16', 1.0625, 0, 0, 18],
  ['1 1/8', 1.125, 7, 12, 18],
  ['1 3/16', 1.1875, 0, 0, 18],
  ['1 1/4', 1.25, 7, 12, 18],
  ['1 5/16', 1.3125, 0, 0, 18],
  ['1 3/8', 1.375, 6, 12, 18],
  ['1 7/16', 1.4375, 0, 0, 18],
  ['1 1/2', 1.5, 6, 12, 18],
  ['1 5/8', 1.625, 0, 0, 18],
  ['1 11/16', 1.6875, 0, 0, 18],
  ['1 3/4', 1.75, 5, 0, 0],
];

function entriesOfRow([size, diameterInch, ...counts]: Row): UnifiedThreadSize[] {
  const series: readonly UnifiedSeries[] = ['UNC', 'UNF', 'UNEF'];
  return counts.flatMap((threadsPerInch, index) =>
    threadsPerInch === 0 ? [] : [{ size, diameterInch, threadsPerInch, series: series[index] as UnifiedSeries }],
  );
}

/** Every UNC, UNF and UNEF size from #0 to 1 3/4 inch, smallest first, and 1-14 UNS. */
export const unifiedThreadSizes: readonly UnifiedThreadSize[] = [
  ...rows.flatMap(entriesOfRow),
  { size: '1', diameterInch: 1, threadsPerInch: 14, series: 'UNS' },
];

/**
 * The unified thread of a size name ("#10", "1/4", "1 1/2"), by threads an inch or by series.
 * Undefined where the standard has no such combination.
 */
export function unifiedThread(
  size: string,
  wanted: { threadsPerInch?: number | undefined; series?: UnifiedSeries | undefined },
): UnifiedThreadSize | undefined {
  return unifiedThreadSizes.find(
    (entry) =>
      entry.size === size &&
      (wanted.threadsPerInch === undefined || entry.threadsPerInch === wanted.threadsPerInch) &&
      (wanted.series === undefined || entry.series === wanted.series),
  );
}

/** Threads read from their names, as a machinist writes them in a remark. The tables are in the files beside this one. */

import { isoThreadSize, isoThreadSizes } from './isoThreads.ts';
import { gThreadSizes, nptThreadSizes, type PipeThreadSize } from './pipeThreads.ts';
import { type UnifiedSeries, type UnifiedThreadSize, unifiedThread } from './unifiedThreads.ts';

/** A thread known by name. Lengths in millimetres. */
export interface Thread {
  /** One spelling for each thread: M6X1, 1/4-20 UNC, G1/4, 1/4 NPT; the hand is not in it. */
  readonly name: string;
  readonly series: 'metric' | 'unified' | 'pipe-g' | 'npt';
  readonly diameter: number;
  readonly pitch: number;
  readonly hand: 'right' | 'left';
  /** True where the pitch is finer than the coarse one of this diameter. */
  readonly fine?: boolean;
}

/** A thread found inside a longer text. */
export interface LocatedThread {
  readonly thread: Thread;
  /** Where its name stands in the text: from `start` up to, not including, `end`. */
  readonly start: number;
  readonly end: number;
  /** True where the name states the pitch (M6X1, 1/4-20), false where it was taken from a table (M6, G1/4). */
  readonly pitchGiven: boolean;
}

type Reading = Omit<LocatedThread, 'start' | 'end'>;
/** A longer remark is prose or rubbish, and is not searched: the time to search would grow with its square. */
export const LONGEST_REMARK = 300;

type Parts = Readonly<Record<string, string | undefined>>;
type Reader = (parts: Parts, text: string) => Reading | undefined;

const NOT_INSIDE_WORD = '(?<![A-Z0-9.#/-])';
/** As above, but a dash behind a word may come before it: "TAP-M6". */
const NOT_INSIDE_NAME = '(?<![A-Z0-9.#/]|(?<![A-Z])-)';
const SIZE = '(?<size>#?1[ -]\\d{1,2}/\\d{1,2}|#?\\d{1,2}/\\d{1,2}|#?\\d{1,2})';
const INCH_MARK = `(?<mark>"|'')?`;
const LEFT_HAND =
  /(?<![A-Z])(?:LH|L\.H\.|LEFT(?:[ -]?HAND(?:ED)?)?|LINKS(?:GEWINDE)?|A GAUCHE|IZQUIERDA|SINISTR[OA])(?![A-Z])/;
const THREAD_WORD = /(?<![A-Z])(?:TAP|TAPS|TAPPING|UN[CFS]|UNEF|N[CF]|THREAD|THREADS|THD)(?![A-Z])/;

/** A remark in capitals without accents, a comma between two digits read as a decimal point. */
export function plainCapitals(remark: string): string {
  const capitals = remark.toUpperCase().normalize('NFD').replace(/\p{M}/gu, '').replaceAll('⌀', 'Ø');
  return capitals.replace(/(\d),(?=\d{1,3}(?!\d))/g, '$1.');
}

/** Whether a text says left hand. The text is in capitals. */
export function saysLeftHand(capitals: string): boolean {
  return LEFT_HAND.test(capitals);
}

const standardPitches = new Set(isoThreadSizes.flatMap((size) => [size.coarse ?? size.fine[0] ?? 0, ...size.fine]));

function metricThread(diameter: number, pitch: number | undefined): Thread | undefined {
  const size = isoThreadSize(diameter);
  if (size === undefined) return undefined;
  const used = pitch ?? size.coarse;
  const largest = size.coarse ?? size.fine[0] ?? 0;
  if (used === undefined || !standardPitches.has(used) || used > largest) return undefined;
  const thread = { name: `M${diameter}X${used}`, series: 'metric', diameter, pitch: used, hand: 'right' } as const;
  return used === size.coarse ? thread : { ...thread, fine: true };
}

const FINE_WORD = /(?<![A-Z])(?:FINE|MF ?\d|FEIN(?:GEWINDE)?)(?![A-Z])/;

/** The pitch of "M8 FINE" where the standard has one only; null where it has several, and undefined without the word. */
function finePitch(diameter: number, text: string): number | undefined | null {
  if (!FINE_WORD.test(text)) return undefined;
  const fine = isoThreadSize(diameter)?.fine ?? [];
  return fine.length === 1 ? fine[0] : null;
}

/** "M10X1.25", "M10 X 1.25", "M8-1.25", "M10". A far larger second number is a screw's length, not a pitch. */
const readMetric: Reader = ({ diameter: written, times, dash, named }, text) => {
  const diameter = Number(written);
  const pitch = times ?? dash ?? named;
  const second = pitch === undefined ? undefined : Number(pitch);
  const isLength = second !== undefined && second > 6 && second > diameter;
  const stated = second === undefined || isLength ? finePitch(diameter, text) : second;
  if (stated === null) return undefined;
  const thread = metricThread(diameter, stated);
  return thread && { thread, pitchGiven: second !== undefined && !isLength };
};

function unifiedToThread(entry: UnifiedThreadSize): Thread {
  const thread = {
    name: `${entry.size}-${entry.threadsPerInch} ${entry.series}`,
    series: 'unified',
    diameter: Math.round(entry.diameterInch * 25.4e6) / 1e6,
    pitch: 25.4 / entry.threadsPerInch,
    hand: 'right',
  } as const;
  return entry.series === 'UNC' ? thread : { ...thread, fine: true };
}

/** The table's spelling of a size as written: "10" → "#10", "1-1/2" → "1 1/2", "1" stays one inch. */
function unifiedSizeNames(written: string): string[] {
  const size = written.replace(/^(#?1)[ -]/, '$1 ');
  if (size.startsWith('#')) return [size];
  return size.includes('/') ? [size] : size === '1' ? ['1', '#1'] : [`#${size}`];
}

/** "1/4-20", "1/4\"-20 UNC", "#10-32", "10-32 UNF", "1/4 UNC"; a bare "10-32" only beside a word for a thread. */
const readUnified: Reader = ({ size: written = '', mark, count, series: seriesWord }, text) => {
  const series = (seriesWord?.length === 2 ? `U${seriesWord}` : seriesWord) as UnifiedSeries | undefined;
  const plain = !written.includes('/') && !written.startsWith('#') && mark === undefined;
  if (plain && series === undefined && !THREAD_WORD.test(text)) return undefined;
  if (count === undefined && series === undefined) return undefined;
  const threadsPerInch = count === undefined ? undefined : Number(count);
  for (const size of unifiedSizeNames(written)) {
    const entry = unifiedThread(size, { threadsPerInch, series });
    if (entry) return { thread: unifiedToThread(entry), pitchGiven: count !== undefined };
  }
  return undefined;
};

function pipeThread(size: PipeThreadSize | undefined, series: 'pipe-g' | 'npt'): Reading | undefined {
  if (size === undefined) return undefined;
  const name = series === 'npt' ? `${size.size} NPT` : `G${size.size}`;
  const pitch = 25.4 / size.threadsPerInch;
  return { thread: { name, series, diameter: size.diameter, pitch, hand: 'right' }, pitchGiven: false };
}

const pipeSizeName = ({ size = '' }: Parts): string => size.replace(/^(1)[ -]/, '$1 ');
const readG: Reader = (parts) => pipeThread(gThreadSizes.get(pipeSizeName(parts)), 'pipe-g');
const readNpt: Reader = (parts) => pipeThread(nptThreadSizes.get(pipeSizeName(parts)), 'npt');

const NUMBER = '(?:\\d{1,2}(?:\\.\\d*)?|\\.\\d+)';
const NO_MORE_NUMBER = '(?![\\d./])';
const INCHES = `(?:"|''| ?IN(?:CH)?)?[ -]*`;
/** NC and NF are what UNC and UNF were called before. */
const SERIES = '(?<series>UNEF|UN[CFS]|N[CF])(?![A-Z])';
const form = (pattern: string, read: Reader): readonly [RegExp, Reader] => [new RegExp(pattern, 'g'), read];

const forms = [
  form(`${NOT_INSIDE_WORD}${SIZE}${INCHES}(?:(?<=-)\\d{1,2}(?:\\.5|[ -]1/2)?[ -]*)?NPT[FR]?(?![A-Z])`, readNpt),
  form(`(?<![A-Z])NPT[FR]?[ -]*${SIZE}${NO_MORE_NUMBER}`, readNpt),
  form(`${NOT_INSIDE_WORD}G ?(?<size>1[ -]\\d{1,2}/\\d|\\d/\\d{1,2})${NO_MORE_NUMBER}`, readG),
  form(`${NOT_INSIDE_WORD}${SIZE}${INCHES}BSPP?(?![A-Z])`, readG),
  form(
    `${NOT_INSIDE_NAME}MF? ?(?<diameter>${NUMBER})(?: ?[X*] ?(?:P ?)?(?<times>${NUMBER})|-(?<dash>${NUMBER})|,? ?P(?:ITCH)? ?=? ?(?<named>${NUMBER}))?${NO_MORE_NUMBER}(?! ?[X*] ?\\d)`,
    readMetric,
  ),
  form(
    `${NOT_INSIDE_WORD}${SIZE}${INCH_MARK}(?: ?- ?| X | )(?<count>\\d{1,2})${NO_MORE_NUMBER}(?!-\\d)(?: ?-?${SERIES})?`,
    readUnified,
  ),
  form(`${NOT_INSIDE_WORD}${SIZE}${INCH_MARK} ?-?${SERIES}`, readUnified),
];

/** A metric name with no M before it, as in "6X1 TAP". */
const [bareMetric, readBareMetric] = form(
  `${NOT_INSIDE_WORD}(?<diameter>${NUMBER}) ?X ?(?<times>${NUMBER})(?![\\d./X])`,
  readMetric,
);

/** G1 and G2 are codes too. */
const [bareG, readBareG] = form(`${NOT_INSIDE_WORD}G ?(?<size>[12])${NO_MORE_NUMBER}`, readG);

function firstReading(pattern: RegExp, read: Reader, capitals: string): LocatedThread | undefined {
  pattern.lastIndex = 0;
  for (let match = pattern.exec(capitals); match !== null; match = pattern.exec(capitals)) {
    const start = match.index;
    const end = start + match[0].length;
    const reading = read(match.groups ?? {}, capitals);
    if (reading) return { ...reading, start, end };
    pattern.lastIndex = start + 1;
  }
  return undefined;
}

/**
 * The first thread named in a text that is already in capitals, with its place.
 * With `bare`, "6X1" without the M and "G1" count too: only where the text is known to speak of a thread.
 */
export function locateThread(capitals: string, bare = false): LocatedThread | undefined {
  for (const [pattern, read] of forms) {
    const found = firstReading(pattern, read, capitals);
    if (found) return withHand(found, capitals);
  }
  const found = bare
    ? (firstReading(bareMetric, readBareMetric, capitals) ?? firstReading(bareG, readBareG, capitals))
    : undefined;
  return found && withHand(found, capitals);
}

function withHand(found: LocatedThread, capitals: string): LocatedThread {
  return saysLeftHand(capitals) ? { ...found, thread: { ...found.thread, hand: 'left' } } : found;
}

/**
 * The first thread named anywhere in a remark, or undefined. "M6" is read as the coarse thread: the caller decides
 * whether the remark speaks of a thread at all, since M6 and M8 are machine functions too.
 */
export function findThread(remark: string): Thread | undefined {
  return remark.length > LONGEST_REMARK ? undefined : locateThread(plainCapitals(remark))?.thread;
}

const TRAILING_WORDS =
  /^(?:[ ,-]*(?:COARSE|FINE|TAP|THREAD|RH|R\.H\.|RIGHT(?:[ -]?HAND)?|LH|L\.H\.|LEFT(?:[ -]?HAND)?|[1-6][A-H]{1,2}))*\s*$/;

/**
 * A text that is nothing but a thread's name: M6, M10X1.25 FINE, 6X1, 1/4-20 UNC, 10-32, G1/4, 1/4 NPT, with LH.
 * Undefined where no standard has that thread.
 */
export function parseThread(text: string): Thread | undefined {
  if (text.length > LONGEST_REMARK) return undefined;
  const capitals = plainCapitals(text.trim());
  if (/^\d{1,2}-\d{2}(?![\d./])/.test(capitals)) return parseWhole(`#${capitals}`) ?? parseWhole(capitals);
  return parseWhole(capitals);
}

function parseWhole(capitals: string): Thread | undefined {
  const found = locateThread(capitals, true);
  if (found === undefined || found.start !== 0) return undefined;
  return TRAILING_WORDS.test(capitals.slice(found.end)) ? found.thread : undefined;
}

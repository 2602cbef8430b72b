// The words of the playback: clock, position, feed, speed, tool and modes where the tool is.
import { PathStyle, RowBit, RowField, rowValue, UNKNOWN_TOOL } from '../../server/src/core/geometry/packedLayout.ts';
import type { PathSection, PathSummary } from '../../server/src/core/geometry/pathSummary.ts';
import { AXIS_NAMES } from './backdrop.ts';
import { lengthText, unitName } from './numbers.ts';
import type { ShownPiece } from './picture.ts';
import type { RunStop } from './playbackStops.ts';
import { lineOf, pointOf, type RunPlace, styleOf, waits } from './playPosition.ts';

const MM_PER_INCH = 25.4;

/** Seconds as a clock shows them: 4:07.3, with hours 1:02:03.4. */
export function clockText(seconds: number): string {
  const tenths = Math.round(seconds * 10);
  const [hours, minutes] = [Math.floor(tenths / 36_000), Math.floor(tenths / 600) % 60];
  const rest = ((tenths % 600) / 10).toFixed(1).padStart(4, '0');
  return hours > 0 ? `${hours}:${String(minutes).padStart(2, '0')}:${rest}` : `${minutes}:${rest}`;
}

/** Line, X Y Z, feed, tool, speed and modes at a place, each as a text of its own: a short one, then a long one. */
export function placeTexts(
  pieces: readonly ShownPiece[],
  place: RunPlace,
  section: PathSection | undefined,
  inch: boolean,
): string[] {
  const line = lineOf(pieces, place);
  const point = pointOf(pieces, place);
  const { path } = pieces[place.piece];
  const row = (field: number): number => rowValue(path, place.vertex, field);
  return [
    line === undefined ? 'Start' : `Line ${line + 1}`,
    point
      ? `${AXIS_NAMES.map((axis, i) => `${axis} ${lengthText(point[i], inch)}`).join('  ')} ${unitName(inch)}`
      : 'Position not known',
    feedText(pieces, place, row(RowField.feed), inch),
    toolText(row(RowField.tool), section),
    speedText(row(RowField.speed), row(RowField.bits)),
    modesText(row(RowField.offset), row(RowField.bits)),
  ];
}

function feedText(pieces: readonly ShownPiece[], place: RunPlace, feed: number, inch: boolean): string {
  const style = styleOf(pieces[place.piece], place.vertex);
  if (waits(pieces, place)) {
    return 'waits';
  }
  if (style === PathStyle.rapid || style === PathStyle.none) {
    return style === PathStyle.rapid ? 'rapid' : '';
  }
  if (Number.isNaN(feed)) {
    return 'feed not known';
  }
  const rounded = inch ? Math.round((feed / MM_PER_INCH) * 100) / 100 : Math.round(feed * 10) / 10;
  return `F ${rounded} ${unitName(inch)}/min`;
}

function speedText(speed: number, bits: number): string {
  if ((bits & RowBit.spindle) === 0) {
    return 'spindle stopped';
  }
  return Number.isNaN(speed) ? 'speed not known' : `S ${Math.round(speed)} rev/min`;
}

function toolText(tool: number, section: PathSection | undefined): string {
  if (tool === UNKNOWN_TOOL) {
    return 'no tool yet';
  }
  const words = section?.tool.number === tool ? section.tool.description : '';
  return words ? `T${tool} ${words}` : `T${tool}`;
}

function modesText(offset: number, bits: number): string {
  const has = (bit: number): boolean => (bits & bit) !== 0;
  const kinds = [
    has(RowBit.cycle) ? 'canned cycle' : '',
    has(RowBit.synchronised) ? 'in step with the spindle' : '',
  ].filter(Boolean);
  return [
    offsetText(offset),
    has(RowBit.coolant) ? 'coolant' : 'no coolant',
    has(RowBit.compensated) ? 'radius compensation' : '',
    kinds.join(' '),
  ]
    .filter(Boolean)
    .join(', ');
}

/** 540 is G54, 591 is G59.1, 10003 is G54.1 P3. */
function offsetText(offset: number): string {
  return offset >= 10_000 ? `G54.1 P${offset - 10_000}` : `G${offset / 10}`;
}

const STOP_WORDS = { stop: 'Stop M0', optional: 'Optional stop M1', message: 'Stop with a message (#3006)' } as const;

/** Why a playback has stopped by itself. */
export function stopText(stops: readonly RunStop[]): string {
  const parts = stops.map(({ kind, line, tool }) => {
    if (kind === 'toolChange') {
      const words = tool && tool.number !== UNKNOWN_TOOL ? `: T${tool.number} ${tool.description}`.trimEnd() : '';
      return `Tool change at line ${line + 1}${words}.`;
    }
    return `${STOP_WORDS[kind]} at line ${line + 1}.`;
  });
  return parts.length > 0 ? `${parts.join(' ')} Play goes on.` : '';
}

/** What is to be said while it does not stop: that times are missing, or that some of the run has none. */
export function restText(isReady: boolean, isEmpty: boolean, summary: PathSummary | undefined): string {
  if (!isReady) {
    return isEmpty ? 'Nothing to play: the program does not move.' : 'The times of the path are on their way.';
  }
  const { untimed = 0, stopped } = summary ?? {};
  const moves = untimed === 1 ? '1 move without a known feed counts' : `${untimed} moves without a known feed count`;
  return [
    untimed > 0 ? `${moves} no time.` : '',
    stopped ? `The run is known up to line ${stopped.line + 1} only: ${stopped.why.replace(/\.$/, '')}.` : '',
  ]
    .filter(Boolean)
    .join(' ');
}

/** Tapping in ordinary code as a block `tapping`: the holes of a cycle, or one hole tapped by moves in and out. Lengths mm. */
import type { Place, RawValues } from '../blocks/parameter.ts';
import { short } from '../blocks/readValues.ts';
import type { Tap } from '../checks/support/tapInSpindle.ts';
import { threadName } from '../checks/support/tapWords.ts';
import { threadWork } from '../checks/support/threadWork.ts';
import { Mode } from '../machine/modes.ts';
import { letterIndex } from '../syntax/block.ts';
import type { Lift, LiftSource, LineRange } from './liftCode.ts';
import { isSameHoles } from './liftCodeCycles.ts';
import { placesText } from './liftCodePatterns.ts';

/** What a tap does in code. Levels are Z of the work. */
export interface TappingWork {
  readonly lines: LineRange;
  readonly places: readonly Place[];
  readonly bottom: number;
  readonly top: number;
  /** Level that feed begins at; undefined where the holder is to decide. */
  readonly near: number | undefined;
  /** Level that it goes to in the end. */
  readonly safe: number;
  /** rev/min; NaN where it is not known. */
  readonly speed: number;
}

/** Whether a rule spoke in some lines. */
export type Spoke = (rule: string, lines: LineRange) => boolean;

/** Rules whose finding a tapping block repairs. */
const REPAIRED = ['tap-in-drilling-cycle', 'tap-feed-mismatch', 'tap-cycle-wrong-for-holder'];
/** Lead of a tap in threads: where it is not known, and of one for the bottom of blind holes (common practice, no source). */
const LEADS = [3, 1.5];
const HOLDER_WORDS = {
  synchronised: 'synchronised holder',
  float: 'float holder',
  reversing: 'self-reversing head',
} as const;

const text = (value: number): string => short(value, 4);
const given = (name: string, value: number | undefined): RawValues =>
  value === undefined || Number.isNaN(value) ? {} : { [name]: text(value) };

/** The tapping block that does a tap's work, with the tip as deep as the code has it. */
export const tappingLifts = (work: TappingWork, tap: Tap, spoke: Spoke): Lift[] => {
  const { thread, holder, row } = tap;
  if (thread === undefined) return [];
  // What is programmed stays; a self-reversing head runs on by itself.
  const reach = work.top - work.bottom + (holder?.kind === 'reversing' ? (holder.selfFeed ?? 0) : 0);
  const lead = [row?.leadTurns ?? LEADS[0], LEADS[1]].find((turns) => reach - turns * thread.pitch > 0);
  if (lead === undefined) return [];
  const repairs = REPAIRED.find((rule) => spoke(rule, work.lines));
  const holderWords = holder === undefined ? '' : ` in a ${HOLDER_WORDS[holder.kind]}`;
  const doing = repairs === undefined ? 'Turn into a block' : 'Write a tapping block instead';
  return [
    {
      title: `${doing}: ${threadName(tap)}${holderWords}`,
      name: 'tapping',
      values: {
        thread: thread.name,
        depth: text(reach - lead * thread.pitch),
        'lead-turns': text(lead),
        ...ofTap(tap),
        ...given('speed', work.speed),
        at: placesText(work.places),
        top: text(work.top),
        ...(work.near === undefined ? {} : { clearance: text(work.near - work.top) }),
        retract: text(work.safe - work.top),
      },
      replaces: work.lines,
      isWhole: holder !== undefined && !Number.isNaN(work.speed),
      ...(repairs === undefined ? {} : { repairs }),
      isSameWork: isSameHoles,
    },
  ];
};

const ofTap = ({ hand, forming, holder }: Tap): RawValues => ({
  hand,
  ...(forming ? { forming: 'yes' } : {}),
  ...(holder === undefined ? {} : { holder: holder.kind }),
  ...given('float', holder?.float),
  ...given('ratio', holder?.ratio),
  ...given('self-feed', holder?.selfFeed),
  ...given('free-up', holder?.freeUp),
});

const LETTERS = [...'NGXYZFSMP'].map(letterIndex);
const CODES: ReadonlyMap<number, readonly number[]> = new Map([
  [letterIndex('G'), [0, 1, 4, 90, 94]],
  [letterIndex('M'), [3, 4, 5]],
]);

/** The hole that a tap is fed into and pulled out of by moves at a line. */
export const handTappingLifts = (source: LiftSource, line: number, spoke: Spoke): Lift[] => {
  const stroke = threadWork(source.facts).strokes.find(
    ({ cycle, in: pass }) => cycle === 0 && pass.line <= line && line <= pass.line + MOST_LINES,
  );
  if (stroke?.tap === undefined || !stroke.isPlaceKnown) return [];
  const { x, y } = stroke.place;
  const first = stroke.in.line;
  const moves = source.movesOf({ firstLine: first, lastLine: first + MOST_LINES });
  const away = moves.findIndex(({ to }) => Math.hypot(to[0] - x, to[1] - y) > 1e-6 || to[2] < stroke.way.bottom - 1e-6);
  const own = away < 0 ? moves : moves.slice(0, away);
  // The last move up ends it; another way down behind it is another stroke.
  const up = own.findIndex(({ from, to }, i) => to[2] > from[2] && !(own[i + 1]?.to[2] > own[i + 1]?.from[2]));
  if (up < 0) return [];
  const lines = { firstLine: first, lastLine: own[up].line };
  if (line > lines.lastLine || !isTappingOnly(source, lines)) return [];
  const { from, bottom, top } = stroke.way;
  const safe = own[up].to[2];
  if (!(safe > top)) return [];
  const speed = source.mode(first, Mode.speed);
  const work: TappingWork = {
    lines,
    places: [[x, y]],
    bottom,
    top,
    near: from > top ? from : undefined,
    safe,
    speed: speed >= 0 ? speed : Number.NaN,
  };
  return tappingLifts(work, stroke.tap, spoke);
};

/** More lines than a tap goes in and out by. */
const MOST_LINES = 12;

/** True where the lines hold the way in and out alone, and leave the spindle as they found it. */
const isTappingOnly = (source: LiftSource, { firstLine, lastLine }: LineRange): boolean => {
  for (let line = firstLine; line <= lastLine; line++) {
    const block = source.analysis.readBlock(line);
    if (block.flow !== undefined || block.assigns || block.deleteLevel > 0) return false;
    for (let i = 0; i < block.wordCount; i++) {
      if (!LETTERS.includes(block.letters[i])) return false;
      if (CODES.get(block.letters[i])?.includes(block.values[i]) === false) return false;
    }
  }
  const spindle = (line: number): number => source.mode(line, Mode.spindle);
  return firstLine > 0 && spindle(firstLine - 1) === spindle(lastLine);
};

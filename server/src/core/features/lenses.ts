/**
 * What stands above lines that begin something: above a tool change what comes of the tool, above a subprogram how often it
 * is called, above a call what it calls. Lines count from 0; numbers are in the program's units.
 */
import type { Analysis } from '../checks/analysis.ts';
import { FactKind } from '../checks/facts.ts';
import type { Segment } from '../checks/segment.ts';
import type { Configuration } from '../machine/configuration.ts';
import { shortNumber } from './hoverPlace.ts';
import { lengthText } from './operations.ts';
import { addSectionSums, Digester, noSectionSums, type SectionSums } from './operationsDigest.ts';
import { nameOfProgram } from './outlineTitles.ts';

/** Words above a line. */
export interface LineLens {
  readonly line: number;
  readonly title: string;
}

/** Segments looked at without a pause: some thousand blocks. */
const BATCH = 16;
/** A longer remark explains, it is no name. */
const LONGEST_NAME = 40;
/** More than anybody scrolls past. */
const MOST = 2000;

/** Finds the lenses of an up-to-date program in steps, for long ones; the outcome comes last, sorted by line. */
export function* lensSteps(analysis: Analysis, configuration: Configuration): Generator<undefined, LineLens[]> {
  const gathering = new Gathering(analysis, configuration);
  let count = 0;
  for (const { segment, firstLine } of analysis.passages()) {
    gathering.addSegment(segment, firstLine);
    if (++count % BATCH === 0) yield undefined;
  }
  return gathering.lenses().slice(0, MOST);
}

class Gathering {
  private readonly analysis: Analysis;
  private readonly digester: Digester;
  /** By the line of the tool change. */
  private readonly sections = new Map<number, SectionSums>();
  private readonly calls = new Map<number, number>();
  private section: SectionSums | undefined;

  constructor(analysis: Analysis, configuration: Configuration) {
    this.analysis = analysis;
    this.digester = new Digester(analysis, configuration);
  }

  addSegment(segment: Segment, firstLine: number): void {
    if ((segment.factKinds & (1 << FactKind.callTarget)) !== 0) this.addCalls(segment, firstLine);
    // Lines that were only read move nothing.
    if (segment.pass === 0) return;
    for (const { change, sums } of this.digester.of(segment).parts) {
      if (change !== undefined) this.section = this.sectionAt(firstLine + change);
      if (this.section !== undefined) addSectionSums(this.section, sums);
    }
  }

  lenses(): LineLens[] {
    const lenses: LineLens[] = [];
    for (const [line, sums] of this.sections) {
      if (sums.seconds > 0 || sums.cutLength > 0) lenses.push({ line, title: sectionTitle(sums) });
    }
    if (!this.analysis.runsStraight) {
      for (const [line, number] of this.calls) this.addCallLens(lenses, line, number);
      for (const { number, firstLine } of this.analysis.layout.units) {
        const times = this.analysis.timesCalled(number);
        if (times > 0) lenses.push({ line: firstLine, title: `called ${timesText(times)}` });
      }
    }
    return lenses.sort((a, b) => a.line - b.line);
  }

  private sectionAt(line: number): SectionSums {
    const before = this.sections.get(line);
    if (before !== undefined) return before;
    const sums = noSectionSums();
    this.sections.set(line, sums);
    return sums;
  }

  private addCalls(segment: Segment, firstLine: number): void {
    for (const { kind, line, a, b } of segment.facts) {
      if (kind === FactKind.callTarget && a >= 0 && b === 0) this.calls.set(firstLine + line, a);
    }
  }

  /** The name of what is called, and how often in all where it is in this text. */
  private addCallLens(lenses: LineLens[], line: number, number: number): void {
    const where = this.analysis.whereIsProgram(number);
    if (where === 'file') lenses.push({ line, title: `O${number}, in a file of its own` });
    const unit = this.analysis.layout.unitOfNumber(number);
    if (where !== 'here' || unit === undefined) return;
    const name = nameOfProgram(this.analysis, unit.firstLine);
    const times = this.analysis.timesCalled(number);
    const called = times > 1 ? `, called ${timesText(times)} in all` : '';
    const isName = name !== '' && name.length <= LONGEST_NAME;
    lenses.push({ line, title: `O${number}${isName ? ` ${name}` : ''}, line ${unit.firstLine + 1}${called}` });
  }
}

const timesText = (times: number): string => (times === 1 ? 'once' : `${times} times`);

/** "3 min 12 s, cuts 1.24 m, to Z-12, F120–400". */
function sectionTitle(sums: SectionSums): string {
  const isInch = sums.isInch === true;
  const time = `${sums.untimed > 0 ? 'more than ' : ''}${timeText(sums.seconds)}`;
  if (sums.cutLength === 0 && sums.lowest === Number.POSITIVE_INFINITY) return `${time}, cuts nothing`;
  const depth = Number.isFinite(sums.lowest) ? `to Z${lengthNumber(sums.lowest, isInch)}` : '';
  const parts = [time, `cuts ${lengthText(sums.cutLength, isInch)}`, depth, feedText(sums, isInch)];
  return parts.filter((part) => part !== '').join(', ');
}

function feedText({ leastFeed, greatestFeed, isPerMinute, untimed }: SectionSums, isInch: boolean): string {
  if (!Number.isFinite(leastFeed)) return untimed > 0 ? 'feed not known' : '';
  const [least, greatest] = [leastFeed, greatestFeed].map((feed) => shortNumber(isInch ? feed / 25.4 : feed, 1));
  const range = least === greatest ? least : `${least}–${greatest}`;
  return isPerMinute ? `F${range}` : `feed ${range} ${isInch ? 'in' : 'mm'}/min`;
}

const lengthNumber = (millimetres: number, isInch: boolean): string =>
  isInch ? shortNumber(millimetres / 25.4, 4) : shortNumber(millimetres, 3);

/** "45 s", "3 min 12 s", "2 h 5 min". */
function timeText(seconds: number): string {
  if (seconds < 9.95) return `${shortNumber(seconds, 1)} s`;
  const whole = Math.round(seconds);
  if (whole < 60) return `${whole} s`;
  if (whole < 3600) return `${Math.floor(whole / 60)} min ${whole % 60} s`;
  const minutes = Math.round(seconds / 60);
  return `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
}

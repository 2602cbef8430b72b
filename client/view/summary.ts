// The path in words, for those who do not see the picture: how far it reaches, tools, times, findings. It stays in the page to
// be read at will; what changes in it is read out once the picture has stood still for a moment.
import { UNKNOWN_TOOL } from '../../server/src/core/geometry/packedLayout.ts';
import type { PathFinding } from '../../server/src/core/geometry/pathRequest.ts';
import type { PathSection, PathSummary } from '../../server/src/core/geometry/pathSummary.ts';
import { extentTexts } from './numbers.ts';
import type { Picture } from './picture.ts';

/** What the words are made of. Lengths mm. */
export interface Summarised {
  readonly name: string;
  readonly inch: boolean;
  /** Least X Y Z, greatest X Y Z of what is cut; least above greatest where nothing is. */
  readonly cutBounds: ArrayLike<number>;
  readonly summary: PathSummary | undefined;
  readonly findings: readonly PathFinding[];
  /** Findings without a place on the path. */
  readonly unplaced: number;
}

const MOST_TOOLS = 10;
const MOST_FINDINGS = 5;
/** How long the picture stands still before its words change, ms: nobody wants to hear every letter that is typed. */
const REST = 700;

/** The words, one text a subject. */
export function summaryTexts(of: Summarised): string[] {
  const cut = extentTexts(of.cutBounds, of.inch);
  return [
    `Path of ${of.name}, in ${of.inch ? 'inch' : 'millimetres'}.`,
    cut.length > 0 ? `Cut: ${cut.join(', ')}.` : 'Nothing is cut.',
    of.summary ? timeText(of.summary) : '',
    of.summary ? toolsText(of.summary) : '',
    of.summary?.stopped ? `The path ends at line ${of.summary.stopped.line + 1}: ${of.summary.stopped.why}.` : '',
    findingsText(of),
  ].filter(Boolean);
}

function timeText({ seconds, cutSeconds, rapidSeconds, waitSeconds, untimed }: PathSummary): string {
  const waits = waitSeconds > 0 ? `, ${durationText(waitSeconds)} waiting` : '';
  const parts = `${durationText(cutSeconds)} at feed, ${durationText(rapidSeconds)} at rapid${waits}`;
  const left = untimed > 0 ? ` ${counted(untimed, 'move')} without a known feed not counted.` : '';
  return `Nominal time ${durationText(seconds)}: ${parts}.${left}`;
}

function toolsText({ sections, moreSections }: PathSummary): string {
  const all = sections.length + moreSections;
  if (all === 0) {
    return '';
  }
  const listed = sections.slice(0, MOST_TOOLS).map(sectionText);
  const more = all > MOST_TOOLS ? ` And ${all - MOST_TOOLS} more.` : '';
  return `${counted(all, 'tool section')}. ${listed.join(' ')}${more}`;
}

function sectionText({ tool, firstLine, seconds }: PathSection): string {
  const name = tool.number === UNKNOWN_TOOL ? 'Tool not known' : `T${tool.number}`;
  const words = tool.description ? `, ${tool.description}` : '';
  return `${name}${words}, from line ${firstLine + 1}: ${durationText(seconds)}.`;
}

function findingsText({ findings, unplaced }: Summarised): string {
  if (findings.length + unplaced === 0) {
    return 'No findings.';
  }
  const count = (severity: PathFinding['severity']): string => {
    const some = findings.filter((finding) => finding.severity === severity).length;
    return some > 0 ? counted(some, severity) : '';
  };
  const counts = [count('error'), count('warning'), count('hint'), unplaced > 0 ? `${unplaced} without a mark` : ''];
  const listed = findings.slice(0, MOST_FINDINGS).map(({ line, message }) => `Line ${line + 1}: ${message}`);
  const more = findings.length > MOST_FINDINGS ? [`And ${findings.length - MOST_FINDINGS} more.`] : [];
  return [`Findings: ${counts.filter(Boolean).join(', ')}.`, ...listed, ...more].join(' ');
}

const counted = (count: number, word: string): string => `${count} ${word}${count === 1 ? '' : 's'}`;

/** Seconds in words: 1 h 2 min 5 s; tenths below ten seconds. */
export function durationText(seconds: number): string {
  if (seconds < 9.95) {
    return `${Math.round(seconds * 10) / 10} s`;
  }
  const whole = Math.round(seconds);
  const [hours, minutes, rest] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60, whole % 60];
  const parts = [hours > 0 ? `${hours} h` : '', minutes > 0 ? `${minutes} min` : '', rest > 0 ? `${rest} s` : ''];
  return parts.filter(Boolean).join(' ');
}

/** The place of the words in the page. */
export class Summary {
  readonly element = document.createElement('div');
  #late: ReturnType<typeof setTimeout> | undefined;

  constructor() {
    this.element.className = 'summary';
    this.element.id = 'path-summary';
    this.element.setAttribute('aria-live', 'polite');
  }

  /** Says the words on a program's path in a moment, if nothing newer comes. */
  say(name: string, picture: Picture): void {
    clearTimeout(this.#late);
    this.#late = setTimeout(() => {
      const { inch, summary, findings, unplaced } = picture;
      const cutBounds = picture.bounds('cutBounds');
      this.#set(summaryTexts({ name, inch, cutBounds, summary, findings, unplaced }));
    }, REST);
  }

  /** Only what is another text now is touched, so that only that is read out. */
  #set(texts: readonly string[]): void {
    while (this.element.childElementCount > texts.length) {
      this.element.lastElementChild?.remove();
    }
    texts.forEach((text, index) => {
      const part = this.element.children[index] ?? this.element.appendChild(document.createElement('p'));
      if (part.textContent !== text) {
        part.textContent = text;
      }
    });
  }
}

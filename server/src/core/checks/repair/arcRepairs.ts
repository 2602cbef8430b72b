/**
 * Repair of a wrong arc by search: every candidate that may be meant is executed together with the blocks behind it, and
 * those that leave no error of the arc's are ranked. Nothing here runs while a program is read: only when somebody asks.
 */
import { AXIS_WORDS, planeOf } from '../../machine/planes.ts';
import type { FindingEdit } from '../findings.ts';
import type { Candidate } from './candidate.ts';
import { centreCandidates } from './centres.ts';
import { describe, isFullCircle } from './describe.ts';
import { endPointCandidates } from './endPoints.ts';
import { type GhostPath, ghostPath } from './ghost.ts';
import { CENTRE_LETTERS, nameOf } from './letters.ts';
import { arcDistanceCandidates, directionCandidates, planeCandidates } from './planeAndMode.ts';
import { changedCharacters } from './ranking.ts';
import { CENTRE_SIGN, retypedCandidates } from './retyped.ts';
import { type ArcSite, type RepairSource, siteOf, WINDOW } from './site.ts';
import { editedLine, type LineEdit, type Outcome, Trials } from './trial.ts';
import { arranged } from './wordOrder.ts';

/** Most repairs that are offered, and of one family as long as others are left. */
const MOST = 5;
const MOST_OF_A_FAMILY = 2;
/** Lines behind the arc that a repair of several arcs is tried with: enough for the move behind it. */
const SHORT_WINDOW = 8;

/** A repair that was tried. */
export interface ArcRepair {
  /** Its words and its result, such as "Write J8. (centre X12. Y-4., radius 8., 90° clockwise)". */
  readonly title: string;
  /** True if nothing else can be meant. */
  readonly safe: boolean;
  readonly edits: readonly FindingEdit[];
  /** Equal for the same repair of other arcs; empty where it cannot be the same. */
  readonly alike: string;
  /** The same in words; the letters are those of this arc. */
  readonly alikeTitle: string;
}

interface Tried {
  readonly candidate: Candidate;
  readonly outcome: Outcome;
  readonly errorsLeft: number;
  readonly changed: number;
  /** True where an arc that ends elsewhere as it stands would become a full circle: inside a contour that is rarely meant. */
  readonly closes: boolean;
  /** What speaks against it: it is a guess, or the block has words that do not belong to the plane. */
  readonly doubts: number;
}

/** Searches in one program as it is now. */
export class ArcRepairs {
  private readonly source: RepairSource;
  private readonly trials: Trials;
  private readonly known = new Map<string, readonly ArcRepair[]>();

  constructor(source: RepairSource) {
    this.source = source;
    this.trials = new Trials(source.configuration, source.modePool, source);
  }

  /** Blocks executed so far. */
  get blocks(): number {
    return this.trials.blocks;
  }

  /** The repairs of the arc in a line that the rule `code` complains of, best first, at most five. */
  at(line: number, code: string): readonly ArcRepair[] {
    return this.once(`${line} ${code}`, () => this.search(line, code));
  }

  /**
   * The repair of the arc in a line that is the same as that of another arc (its `alike`); undefined where it does not help
   * here. Signs of centre words are turned whatever their letters, but only where nothing else is better.
   */
  alike(line: number, code: string, alike: string): ArcRepair | undefined {
    return this.once(`${line} ${code} ${alike}`, () => this.searchAlike(line, code, alike))[0];
  }

  /** The changed part of the path with edits applied; undefined where nothing changes. */
  ghost(edits: readonly LineEdit[]): GhostPath | undefined {
    return ghostPath(this.trials, edits);
  }

  private once(key: string, search: () => readonly ArcRepair[]): readonly ArcRepair[] {
    const repairs = this.known.get(key) ?? search();
    this.known.set(key, repairs);
    return repairs;
  }

  private searchAlike(line: number, code: string, alike: string): ArcRepair[] {
    // No modes change: what follows behind the next move is as it was.
    const site = siteOf(this.source, this.trials, line, SHORT_WINDOW);
    if (site === undefined) return [];
    const all = code === 'arc-direction-suspect' ? directionCandidates(site) : ownCandidates(site);
    const isSame = (one: Candidate): boolean => one.alike === alike;
    // A sign that is turned nearly always leaves some arc or other: it has to be the best here.
    const rivals = alike === CENTRE_SIGN ? [...all, ...endPointCandidates(site)] : all.filter(isSame);
    const [best] = this.tryAll(site, code, rivals);
    return best !== undefined && isSame(best.candidate) ? [repairOf(site, best, false)] : [];
  }

  private search(line: number, code: string): ArcRepair[] {
    const site = siteOf(this.source, this.trials, line, WINDOW);
    if (site === undefined || !isComplainedOf(site, code)) return [];
    const tried = this.tryAll(site, code, candidatesFor(site, code));
    const offered = offeredOf(tried);
    const isSure = isRename(offered[0]) && code === 'arc-centre-off-plane' && isOnlyRetyping(tried);
    return offered.map((one, place) => repairOf(site, one, isSure && place === 0));
  }

  /** Those that help, best first, without those that come to the same. */
  private tryAll(site: ArcSite, code: string, candidates: readonly Candidate[]): Tried[] {
    const tried = new Map<string, Tried>();
    for (const candidate of withoutRepeats(candidates)) {
      const one = this.tryOne(site, code, candidate);
      if (one === undefined) continue;
      const key = resultKey(one);
      const other = tried.get(key);
      if (other === undefined || compare(one, other) < 0) tried.set(key, one);
    }
    return [...tried.values()].sort(compare);
  }

  private tryOne(site: ArcSite, code: string, candidate: Candidate): Tried | undefined {
    const { line } = site;
    const first = Math.min(line, ...candidate.edits.map((edit) => edit.line));
    const alone = this.trials.run(line, line, line, candidate.probe ?? candidate.edits);
    if (alone === undefined || !isRight(alone, line, code)) return undefined;
    const outcome = this.trials.run(first, line + site.window, line, candidate.edits);
    if (outcome === undefined || !isRight(outcome, line, code)) return undefined;
    for (const error of outcome.errors) {
      if (!site.asWritten.errors.has(error) && !this.wasThereBefore(first, site, error)) return undefined;
    }
    if (code === 'arc-direction-suspect' && outcome.joins < 2) return undefined;
    return {
      candidate,
      outcome,
      errorsLeft: [...outcome.errors].filter((error) => site.asWritten.errors.has(error)).length,
      changed: changedIn(site, candidate.edits),
      closes: isFullCircle(outcome.arc?.sweep ?? 0) && endsElsewhere(site),
      doubts: doubtsOf(site, candidate, outcome),
    };
  }

  /** True if an error stands between the line where a candidate begins and the arc already. */
  private wasThereBefore(first: number, { line }: ArcSite, error: string): boolean {
    return first < line && (this.trials.run(first, line - 1, line, [])?.errors.has(error) ?? false);
  }
}

/** False where the complaint comes of a later pass of a loop, whose state is not at hand. */
const isComplainedOf = ({ asWritten }: ArcSite, code: string): boolean =>
  code === 'arc-direction-suspect' || asWritten.ofArc.has(code);

/** Every candidate that the rule's complaint asks for. */
const candidatesFor = (site: ArcSite, code: string): Candidate[] => {
  if (code === 'arc-direction-suspect') return directionCandidates(site);
  return [
    ...ownCandidates(site),
    ...planeCandidates(site),
    ...arcDistanceCandidates(site),
    ...endPointCandidates(site),
  ];
};

/** Those that change the arc alone. */
const ownCandidates = (site: ArcSite): Candidate[] => [...retypedCandidates(site), ...centreCandidates(site)];

const withoutRepeats = (candidates: readonly Candidate[]): Candidate[] => {
  const seen = new Set<string>();
  return candidates.filter(({ edits }) => {
    const key = edits.map(({ line, column, endColumn, text }) => `${line} ${column} ${endColumn} ${text}`).join('|');
    return !seen.has(key) && seen.add(key) !== undefined;
  });
};

/**
 * True where the words of the end point lead away from the start: in the plane, or in another plane, as the axis across and
 * one of the plane's two stand there (X Y under G18; a helix that closes has none of the two, or both).
 */
const endsElsewhere = ({ arc, block }: ArcSite): boolean =>
  Math.hypot(arc.endFirst - arc.startFirst, arc.endSecond - arc.startSecond) > arc.tolerance ||
  (block.has(arc.thirdAxis) && block.has(arc.firstAxis) !== block.has(arc.secondAxis));

/** True if an arc was drawn in the line and neither an error nor the complaint stands there. */
const isRight = ({ arc, errors, ofArc }: Outcome, line: number, code: string): boolean => {
  if (arc === undefined || !Number.isFinite(arc.radius + arc.sweep) || ofArc.has(code)) return false;
  for (const error of errors) if (error.startsWith(`${line} `)) return false;
  return true;
};

/** Equal for candidates of which one is enough. */
const resultKey = ({ candidate, outcome: { arc, modes, errors } }: Tried): string => {
  const round = (value: number) => Math.round(value * 500);
  if (arc === undefined) return '';
  const { plane, centre, end, sweep } = arc;
  // Which of R and centre is to go is for the reader to say.
  const way = candidate.family === 'superfluous' ? candidate.alike : '';
  return [plane, ...centre.map(round), ...end.map(round), round(sweep), modes, errors.size, way].join(' ');
};

/**
 * Better ones first: fewest errors left, most neighbours joined smoothly, no full circle made, fewest doubts, fewest characters changed,
 * shortest path.
 */
const compare = (a: Tried, b: Tried): number =>
  a.errorsLeft - b.errorsLeft ||
  b.outcome.joins - a.outcome.joins ||
  Number(a.closes) - Number(b.closes) ||
  a.doubts - b.doubts ||
  a.changed - b.changed ||
  Math.round((a.outcome.length - b.outcome.length) * 1e6);

/** See `Tried.doubts`. */
const doubtsOf = (site: ArcSite, { edits, isGuess }: Candidate, { arc }: Outcome): number => {
  const { third } = planeOf(arc?.plane ?? 17);
  const text = editedLine(site.source.lineText(site.line), site.line, edits).replace(/\([^)]*\)|;.*/g, '');
  const idle = [nameOf(AXIS_WORDS[third]), nameOf(CENTRE_LETTERS[third])].filter((letter) =>
    new RegExp(letter, 'i').test(text),
  );
  return idle.length + (isGuess ? 1 : 0);
};

const changedIn = (site: ArcSite, edits: readonly LineEdit[]): number =>
  edits.reduce((sum, { line, column, endColumn, text }) => {
    const old = site.source.lineText(line).slice(column, endColumn);
    return sum + changedCharacters(old, text);
  }, 0);

/** The best ones, at most two of a family as long as others are left. */
const offeredOf = (tried: readonly Tried[]): Tried[] => {
  const counts = new Map<Candidate['family'], number>();
  const isFirstOfFamily = ({ candidate: { family } }: Tried): boolean => {
    counts.set(family, (counts.get(family) ?? 0) + 1);
    return (counts.get(family) ?? 0) <= MOST_OF_A_FAMILY;
  };
  const first = tried.filter(isFirstOfFamily);
  const chosen = new Set([...first, ...tried.filter((one) => !first.includes(one))].slice(0, MOST));
  return tried.filter((one) => chosen.has(one));
};

const isRename = (one: Tried | undefined): boolean => one?.candidate.alike.startsWith('letter ') === true;

/** True if the first one is the only one that makes up no number. */
const isOnlyRetyping = (tried: readonly Tried[]): boolean =>
  tried.filter(({ candidate, errorsLeft }) => candidate.isRetyped && errorsLeft === tried[0].errorsLeft).length === 1;

/** A repair that moves the end point, and with it what follows, is none for several arcs at once. */
const alikeOf = ({ alike }: Candidate): string => (/ [XYZ]\b/.test(alike) ? '' : alike);

const repairOf = (site: ArcSite, { candidate, outcome }: Tried, safe: boolean): ArcRepair => ({
  title: `${candidate.does} (${describe(site, outcome.arc!)})`,
  safe,
  edits: arranged(site, candidate.edits).map(({ line, column, endColumn, text }) => ({
    line,
    column,
    endLine: line,
    endColumn,
    text,
  })),
  alike: alikeOf(candidate),
  alikeTitle: candidate.alikeTitle,
});

/** What a whole path comes to, put together from the sums of its parts: for legend, playback and words. */
import { toolShape } from '../checks/support/toolShape.ts';
import { emptyBounds } from '../geometry/packedLayout.ts';
import type { PathPlace, PathSection, PathStop, PathSummary, PathTool } from '../geometry/pathSummary.ts';
import type { Configuration } from '../machine/configuration.ts';
import { offsetName } from '../machine/machinePosition.ts';
import { Mode, type ModePool } from '../machine/modes.ts';
import { addSums, noSums, type PartSums, type PathSums, type SectionPart, secondsOf } from './pathSections.ts';

/** A part of the path in its place. */
export interface PlacedPart {
  /** Id of the piece that it is in, and the vertices of that piece before it. */
  readonly piece: number;
  readonly vertex: number;
  /** Line of the program that the part's lines count from. */
  readonly firstLine: number;
  readonly sums: PartSums;
  /** Lines of tool changes in the part, as the part counts them. */
  readonly toolChanges: readonly { readonly line: number; readonly tool: number }[];
}

/** More sections are counted, not listed: a loop may change tools a thousand times. */
const MOST_SECTIONS = 1000;

interface GrowingSection {
  readonly tool: number;
  readonly modes: number;
  readonly firstLine: number;
  readonly start: PathPlace;
  readonly startSeconds: number;
  readonly sums: PathSums;
  readonly cutBounds: Float64Array;
}

/** Puts the parts of a run together. */
export class RunSections {
  private readonly sections: GrowingSection[] = [];
  private readonly total = noSums();
  private readonly offsets = new Set<number>();
  /** The last tool change that was passed: a section begins with it, not with its first move. */
  private change: { readonly line: number; readonly tool: number } | undefined;

  /** Takes in the next part. */
  add(part: PlacedPart): void {
    for (const offset of part.sums.offsets) this.offsets.add(offset);
    let change = 0;
    for (const section of part.sums.sections) {
      for (; change < part.toolChanges.length && part.toolChanges[change].line <= section.line; change++) {
        this.passChange(part, change);
      }
      this.addSection(part, section);
    }
    for (; change < part.toolChanges.length; change++) this.passChange(part, change);
  }

  private passChange({ firstLine, toolChanges }: PlacedPart, index: number): void {
    const { line, tool } = toolChanges[index];
    this.change = { line: firstLine + line, tool };
  }

  private addSection(part: PlacedPart, section: SectionPart): void {
    let last = this.sections.at(-1);
    if (last === undefined || last.tool !== section.tool) {
      const own = this.change?.tool === section.tool ? this.change.line : undefined;
      last = {
        tool: section.tool,
        modes: section.modes,
        firstLine: Math.max(0, own ?? part.firstLine + section.line),
        start: { piece: part.piece, vertex: part.vertex + section.vertex },
        startSeconds: this.seconds,
        sums: noSums(),
        cutBounds: emptyBounds(),
      };
      this.sections.push(last);
    }
    addSums(last.sums, section.sums);
    addSums(this.total, section.sums);
    for (let axis = 0; axis < 3; axis++) {
      last.cutBounds[axis] = Math.min(last.cutBounds[axis], section.cutBounds[axis]);
      last.cutBounds[axis + 3] = Math.max(last.cutBounds[axis + 3], section.cutBounds[axis + 3]);
    }
  }

  /** Seconds so far. */
  get seconds(): number {
    return secondsOf(this.total);
  }

  /** The whole of it; `stops` and why the run ended early come from elsewhere. */
  summary(
    configuration: Configuration,
    pool: ModePool,
    stops: readonly PathStop[],
    stopped: PathSummary['stopped'],
  ): PathSummary {
    const { untimed, ...total } = this.total;
    return {
      seconds: this.seconds,
      ...total,
      sections: this.sections.slice(0, MOST_SECTIONS).map((section) => listed(section, configuration, pool)),
      moreSections: Math.max(0, this.sections.length - MOST_SECTIONS),
      offsets: [...this.offsets].map(offsetName),
      stops,
      untimed,
      ...(stopped === undefined ? {} : { stopped }),
    };
  }
}

const listed = (section: GrowingSection, configuration: Configuration, pool: ModePool): PathSection => {
  const { firstLine, start, startSeconds, sums, cutBounds } = section;
  return {
    tool: toolOf(section, configuration, pool),
    firstLine,
    start,
    startSeconds,
    seconds: secondsOf(sums),
    cutLength: sums.cutLength,
    rapidLength: sums.rapidLength,
    ...(cutBounds.every(Number.isFinite) ? { cutBounds: [...cutBounds] } : {}),
  };
};

/** The tool table's words and measures, else those of the remark. */
function toolOf({ tool, modes }: GrowingSection, configuration: Configuration, pool: ModePool): PathTool {
  const { row, kind, diameter, pointAngle } = toolShape(configuration, pool, modes);
  const ofRow = row && [row.kind.replaceAll('-', ' '), row.thread ?? ''].join(' ').trim();
  const measures = {
    kind,
    diameter,
    cornerRadius: row?.cornerRadius,
    pointAngle,
    fluteLength: row?.fluteLength,
    length: row?.length,
  };
  return {
    number: tool < 0 ? -1 : tool,
    description: row?.description ?? ofRow ?? pool.string(pool.at(modes, Mode.toolRemark)),
    ...(Object.fromEntries(Object.entries(measures).filter(([, value]) => value !== undefined)) as Partial<PathTool>),
  };
}

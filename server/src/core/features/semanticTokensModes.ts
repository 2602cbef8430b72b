/** The modes around the lines of a stretch, as the run came through them first: taken from the segments, nothing is executed. */
import type { Analysis } from '../checks/analysis.ts';
import type { Segment } from '../checks/segment.ts';

/** See the top of the file. */
export class ModesOfLines {
  private readonly analysis: Analysis;
  private readonly stretches: readonly { readonly segment: Segment; readonly firstLine: number }[];
  private last = 0;

  /** Lines from `firstLine` to `lastLine`, both included. */
  constructor(analysis: Analysis, firstLine: number, lastLine: number) {
    this.analysis = analysis;
    this.stretches = analysis.runsStraight
      ? straightStretches(analysis, firstLine, lastLine)
      : flowStretches(analysis, firstLine, lastLine);
  }

  /** Id of the modes behind a line; undefined for a line that the run never comes to. */
  after(line: number): number | undefined {
    const found = this.stretchOf(line);
    return found?.segment.modesAfter[line - found.firstLine];
  }

  /** Id of the modes before a line; undefined for a line that the run never comes to. */
  before(line: number): number | undefined {
    const found = this.stretchOf(line);
    if (found === undefined) return undefined;
    const { segment, firstLine } = found;
    return line === firstLine ? segment.entry.modes : segment.modesAfter[line - firstLine - 1];
  }

  /** One mode of a set. */
  mode(id: number, field: number): number {
    return this.analysis.modePool.at(id, field);
  }

  private stretchOf(line: number) {
    const fits = (index: number): boolean => {
      const { segment, firstLine } = this.stretches[index];
      return firstLine <= line && line < firstLine + segment.blockCount;
    };
    if (this.last < this.stretches.length && fits(this.last)) return this.stretches[this.last];
    const index = this.stretches.findIndex((_, place) => fits(place));
    if (index < 0) return undefined;
    this.last = index;
    return this.stretches[index];
  }
}

function straightStretches(analysis: Analysis, firstLine: number, lastLine: number) {
  const found: { segment: Segment; firstLine: number }[] = [];
  const end = analysis.chunkOfLine(lastLine);
  for (let chunk = analysis.chunkOfLine(firstLine); chunk <= end; chunk++) {
    for (const segment of analysis.chunks[chunk].segments)
      found.push({ segment, firstLine: analysis.chunkFirstLine(chunk) });
  }
  return found;
}

function flowStretches(analysis: Analysis, firstLine: number, lastLine: number) {
  const found: { segment: Segment; firstLine: number }[] = [];
  for (const passage of analysis.passages()) {
    const { segment } = passage;
    if (segment.pass !== 1 || passage.firstLine > lastLine) continue;
    if (passage.firstLine + segment.blockCount > firstLine) found.push(passage);
  }
  return found;
}

/** Findings that a loop or a called program makes at each pass are told once. */
import type { SegmentFinding } from './segment.ts';

/** Remembers what was told. */
export class RepeatedFindings {
  private readonly told = new Set<string>();

  /** True if the same was found at the same place before. */
  has({ rule, message, column, origin }: SegmentFinding, line: number): boolean {
    const key = `${rule} ${message} ${line} ${column} ${origin?.line}`;
    if (this.told.has(key)) return true;
    this.told.add(key);
    return false;
  }
}

/**
 * What a program is made of: programs by number, tool sections, and in them what the tool does: operations, generated
 * blocks, loops and calls. Lines count from 0.
 */
import type { Analysis } from '../checks/analysis.ts';
import type { Configuration } from '../machine/configuration.ts';
import { OutlineBuilder } from './outlineBuilder.ts';
import { outlineParts } from './outlineSource.ts';

/** A stretch of the program with a name. */
export interface OutlineItem {
  readonly kind: 'program' | 'tool' | 'operation' | 'block' | 'loop' | 'call';
  readonly name: string;
  readonly detail: string;
  readonly line: number;
  /** Columns of the words that begin it. */
  readonly column: number;
  readonly endColumn: number;
  /** Last line that belongs to it. */
  readonly endLine: number;
  readonly children: readonly OutlineItem[];
}

/** Parts put together without a pause. */
const BATCH = 2000;

/** The outline of an up-to-date program in steps, for long ones: pauses now and then, the outcome comes last. */
export function* outlineSteps(analysis: Analysis, configuration: Configuration): Generator<undefined, OutlineItem[]> {
  const parts = yield* outlineParts(analysis, configuration);
  const builder = new OutlineBuilder(analysis, configuration);
  let count = 0;
  for (const part of parts) {
    builder.take(part);
    if (++count % BATCH === 0) yield undefined;
  }
  return builder.end(analysis.lineCount - 1);
}

/** The same at once; empty where the program has neither program numbers, tools, cuts, loops nor calls. */
export function outlineOf(analysis: Analysis, configuration: Configuration): OutlineItem[] {
  const steps = outlineSteps(analysis, configuration);
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
}

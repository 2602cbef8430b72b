/** A program put together from generated blocks. */
import { type BlockContext, contextAt } from '../../server/src/core/blocks/context.ts';
import { Analysis } from '../../server/src/core/checks/analysis.ts';
import type { Configuration } from '../../server/src/core/machine/configuration.ts';
import { makeBlock } from './blocks.ts';

/** Values of a block by parameter. */
export type Raw = Readonly<Record<string, string | number>>;

/** A program that grows block by block, each made for the place behind the last. */
export class GrowingProgram {
  readonly configuration: Configuration;
  readonly lines: string[] = [];

  constructor(configuration: Configuration) {
    this.configuration = configuration;
  }

  /** Adds a block at the end. @throws with the problems where it cannot be made */
  add(name: string, raw: Raw, context: BlockContext = this.here()): this {
    const { lines, problems } = makeBlock(name, raw, context);
    if (lines === undefined) throw new Error(`${name}: ${problems.map(({ message }) => message).join(' | ')}`);
    this.lines.push(...lines);
    return this;
  }

  /** What a block at the end would be made for. */
  here(): BlockContext {
    return contextAt(this.run(), this.lines.length, this.configuration);
  }

  /** The program as executed. */
  run(): Analysis {
    const analysis = new Analysis([...this.lines, ''].join('\n'), this.configuration);
    while (!analysis.settle(1000));
    return analysis;
  }

  /** What the checks find: severity, rule, line. */
  findings(): string[] {
    return this.run()
      .findings()
      .findings.map(({ rule, severity, line }) => `${severity} ${rule} "${this.lines[line] ?? ''}"`);
  }
}

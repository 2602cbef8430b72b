/** `blockwright renumber`: block numbers counted anew, added or taken away; jumps go along, and the path stays the same. */
import { type Command, InvalidArgumentError, Option } from 'commander';
import { Analysis } from '../../core/checks/analysis.ts';
import { changedText } from '../../core/features/formatEdits.ts';
import { type Renumbering, renumber } from '../../core/features/renumber.ts';
import { ExitCode, type Output, Progress, sayOnError, UsageError } from './output.ts';
import { commitReplacements, ensureReadable, prepareReplacement, readProgram } from './programFile.ts';
import { type ConfigurationOptions, ShopFileFinder } from './shopFile.ts';
import { SubprogramFolders } from './subprogramFolder.ts';

const EXITS = `
Exit code: 0 the program is written, 1 it would not do the same and is left, 2 cannot be used as asked.
`;

interface RenumberOptions extends ConfigurationOptions {
  readonly start?: number;
  readonly step?: number;
  readonly add?: boolean;
  readonly remove?: boolean;
  readonly write?: boolean;
}

/** Adds the verb. `configured` adds the options that all verbs take. */
export function addRenumberVerb(program: Command, output: Output, configured: (command: Command) => Command): void {
  configured(program.command('renumber'))
    .summary('count block numbers anew')
    .description(
      'Counts the block numbers (N) of a program anew. Jumps, returns and calls of a block go along; the program is executed with its new numbers first, and left where it would not do the same.',
    )
    .argument('<file>', 'program; - is standard input')
    .option('--start <number>', 'the first number (default: blockNumbers of the shop’s file, else 10)', wholeNumber(0))
    .option(
      '--step <number>',
      'from one to the next (default: blockNumbers of the shop’s file, else 10)',
      wholeNumber(1),
    )
    .addOption(new Option('--add', 'also blocks that have none get a number').conflicts('remove'))
    .addOption(new Option('--remove', 'take away the numbers that nothing leads to'))
    .option('--write', 'write the file, not standard output')
    .addHelpText('after', EXITS)
    .action((name: string, options: RenumberOptions) => renumberFile(name, options, output));
}

const wholeNumber =
  (least: number) =>
  (value: string): number => {
    if (!/^\d{1,8}$/.test(value) || Number(value) < least)
      throw new InvalidArgumentError(`It is a whole number from ${least} on.`);
    return Number(value);
  };

const howOf = ({ add, remove }: RenumberOptions): Renumbering => (add ? 'add' : remove ? 'remove' : 'renumber');

/** Renumbers one program. @throws UsageError */
async function renumberFile(name: string, options: RenumberOptions, output: Output): Promise<void> {
  if (options.write && name === '-') throw new UsageError('--write needs a file; standard input cannot be written');
  ensureReadable([name]);
  const { configuration } = new ShopFileFinder(options).for(name);
  const file = await readProgram(name);
  if (file.badBytes !== undefined) throw new UsageError(`${name} is left: it holds bytes that are no UTF-8 text`);
  const progress = new Progress();
  const host = new SubprogramFolders().hostFor(name, configuration.profile.colon !== 'alignment');
  const analysis = new Analysis(file.text, configuration, host);
  while (!analysis.runSlice(SLICE)) progress.show(name, analysis.progress);
  const { start = configuration.blockNumbers.start, step = configuration.blockNumbers.step } = options;
  const work = renumber({ analysis, configuration, host }, howOf(options), { start, step });
  let result = work.next();
  while (!result.done) result = work.next();
  progress.clear();
  if ('refusal' in result.value) {
    sayOnError(`${name}: left as it is. ${result.value.refusal.why}`, ExitCode.errors);
    return;
  }
  const text = changedText(analysis, result.value.changes);
  if (options.write) commitReplacements(text === file.text ? [] : [prepareReplacement(file, text)]);
  else {
    await output.write(text);
    await output.flush();
  }
}

/** Time between two looks at the progress line, ms. */
const SLICE = 100;

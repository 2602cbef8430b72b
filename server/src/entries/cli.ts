/** The command line: `blockwright <verb> …`. Prints the verbs' help, takes the options apart, sets the exit code. */
import { Command, CommanderError, Option } from 'commander';
import { version } from '../../../package.json';
import { addBlockVerb, wantsValue } from './cli/block.ts';
import { type CheckOptions, check } from './cli/check.ts';
import { ExitCode, Output, sayOnError, UsageError } from './cli/output.ts';
import { addRenumberVerb } from './cli/renumber.ts';
import type { ServeOptions } from './cli/serve.ts';
import { type TraceOptions, trace } from './cli/trace.ts';

const ABOUT =
  'Checks programs for CNC mills (ISO 6983 / RS-274) and shows their path. It never replaces proving a program on the machine.';

const EXITS = `
Exit code: 0 nothing of severity error, 1 errors found, 2 cannot be used as asked.
`;

function commandLine(output: Output): Command {
  const program = new Command('blockwright')
    .description(ABOUT)
    .version(version, '--version', 'print the version')
    .helpOption('-h, --help', 'print this help')
    .showSuggestionAfterError(false)
    .helpCommand(false)
    .exitOverride()
    .configureOutput({ writeErr: () => undefined, outputError: () => undefined })
    .addHelpText('after', EXITS);
  withConfiguration(program.command('check'))
    .summary('say what is wrong in programs')
    .description('Says what is wrong in programs, with the numbers that decide and what to do.')
    .argument('<files...>', 'programs; - is standard input')
    .addOption(
      new Option('--format <form>', 'for people, programs or build servers')
        .choices(['text', 'json', 'sarif'])
        .default('text'),
    )
    .addOption(
      new Option('--severity <least>', 'least weight of the findings that are shown')
        .choices(['error', 'warning', 'hint'])
        .default('hint'),
    )
    .option('--fix', 'take the safe repairs and write the programs')
    .addHelpText('after', EXITS)
    .action((files: string[], options: CheckOptions) => check(files, options, output));
  withConfiguration(program.command('trace'))
    .summary('write the path of a program')
    .description(
      'Writes the path of a program move by move: mm, mm/min, rev/min, seconds, degrees; arcs as arcs. Positions are work coordinates.',
    )
    .argument('<file>', 'program; - is standard input')
    .addOption(new Option('--format <form>', 'numbers or a drawing').choices(['json', 'csv', 'svg']).default('json'))
    .addOption(new Option('--plane <plane>', 'plane of the drawing').choices(['XY', 'ZX', 'YZ']).default('XY'))
    .addOption(
      new Option('--units <units>', 'unit of the CSV and of a drawing’s dimensions (JSON is always in mm)')
        .choices(['mm', 'inch'])
        .default('mm'),
    )
    .option(
      '--machine',
      'also machine positions (JSON and CSV): from machine.workOffsets of the shop’s file or G10, and tool lengths; empty where not known',
    )
    .addHelpText('after', EXITS)
    .action((file: string, options: TraceOptions) => trace(file, options, output));
  addBlockVerb(program, output, withConfiguration);
  addRenumberVerb(program, output, withConfiguration);
  withConfiguration(program.command('serve'))
    .summary('serve an editor')
    .description('The language server, for any editor that speaks its protocol.')
    .option('--stdio', 'over standard input and output')
    .action(async (options: ServeOptions) => (await import('./cli/serve.ts')).serve(options));
  return program;
}

const withConfiguration = (command: Command): Command =>
  command
    .option('--profile <name>', 'the control: iso, rs274ngc, iso-macro or a file')
    .option('--config <file>', 'the shop’s file (default: the nearest blockwright.json upward from the program)');

/** What the library says of words that it cannot take, in words for people. */
const inOurWords = ({ code, message }: CommanderError): string => {
  const [, name, what] = /^error: option '(--\S+) [<[]([^>\]]*)[>\]]' argument missing$/.exec(message) ?? [];
  if (code !== 'commander.optionMissingArgument' || name === undefined) return message.replace(/^error: /, '');
  return wantsValue(name, what);
};

async function main(): Promise<void> {
  const output = new Output(process.stdout);
  // Who goes early leaves nothing to say.
  process.stderr.on('error', () => undefined);
  const words = process.argv.slice(2);
  try {
    if (words.length === 0)
      throw new UsageError('say what to do: check, trace, block, renumber or serve (--help tells more)');
    await commandLine(output).parseAsync(words, { from: 'user' });
  } catch (error) {
    if (error instanceof UsageError) {
      sayOnError(error.message, ExitCode.unusable);
      for (const detail of error.details) process.stderr.write(`  ${detail}\n`);
    } else if (!(error instanceof CommanderError)) throw error;
    else if (error.exitCode !== 0) sayOnError(inOurWords(error), ExitCode.unusable);
  }
}

void main();

/** `blockwright block`: a generated block on standard output. Each kind of block is a command with its parameters as options. */
import { type Command, Option } from 'commander';
import type { BlockKind } from '../../core/blocks/blockKind.ts';
import { contextAlone } from '../../core/blocks/context.ts';
import { generateBlock } from '../../core/blocks/generate.ts';
import type { ChoiceParameter, NumberParameter, Parameter, Problem } from '../../core/blocks/parameter.ts';
import { short } from '../../core/blocks/readValues.ts';
import { BLOCKS } from '../../core/blocks/registry.ts';
import { cautionOnError, type Output, UsageError } from './output.ts';
import { type ConfigurationOptions, ShopFileFinder } from './shopFile.ts';

const UNITS = `
Values are in mm, mm/min, rev/min and degrees; 0.5in is taken too. Places are x,y with ; between them.
Put a list with ; in quotes, since ; ends a command in most shells: --at "0,0;20,0".
Without a line of a program to stand at, the block is written for the modes that the control starts in.
`;
const EXITS = `
Exit code: 0 the block is written, 2 it cannot be written so.
`;

/** Options of every block, beside its parameters. */
interface BlockOptions extends ConfigurationOptions {
  readonly programUnits?: 'mm' | 'inch';
  readonly facts?: boolean;
}

/** Adds the verb with a command for each kind of block. `configured` adds the options that all verbs take. */
export function addBlockVerb(program: Command, output: Output, configured: (command: Command) => Command): void {
  const verb = withOptions(configured(program.command('block')))
    .summary('write a block with its values computed')
    .description('Writes a block with every value computed and checked, on standard output.')
    .usage('<name> [--parameter value]…')
    .argument('[name]', 'the block; its own --help tells its parameters')
    .option('--list', 'the blocks that there are')
    .addHelpText('after', EXITS)
    .action((name: string | undefined, options: { list?: boolean }) => list(name, options.list === true, output));
  for (const kind of BLOCKS) addKind(verb, kind, output, configured);
}

async function list(name: string | undefined, isAsked: boolean, output: Output): Promise<void> {
  const names = `there are ${BLOCKS.map((kind) => kind.name).join(', ')}`;
  if (name !== undefined) throw new UsageError(`there is no block ${name}; ${names}`);
  if (!isAsked) throw new UsageError(`name a block (--help tells more); ${names}`);
  const width = Math.max(...BLOCKS.map((kind) => kind.name.length));
  for (const kind of BLOCKS) await output.write(`${kind.name.padEnd(width)}  ${kind.summary}\n`);
  await output.flush();
}

const withOptions = (command: Command): Command =>
  command
    .addOption(
      new Option(
        '--program-units <units>',
        'unit that the block is written in (default: what the control starts in)',
      ).choices(['mm', 'inch']),
    )
    .option('--facts', 'the computed values too, on standard error');

function addKind(verb: Command, kind: BlockKind, output: Output, configured: (command: Command) => Command): void {
  const command = verb
    .command(kind.name)
    .description(kind.summary)
    .usage('[--parameter value]…')
    .configureHelp({ minWidthToWrap: 24 });
  for (const parameter of kind.parameters) command.addOption(optionOf(parameter));
  command.optionsGroup('Options:');
  withOptions(configured(command))
    // What belongs to no parameter is told together with all else that is wrong.
    .allowUnknownOption()
    .allowExcessArguments()
    .addHelpText('after', UNITS + EXITS)
    .action((_values: unknown, self: Command) => writeBlock(kind, self, output));
}

const optionOf = (parameter: Parameter): Option => {
  const flag = `--${parameter.name} ${placeholderOf(parameter)}`;
  const option = new Option(flag, `${parameter.help} ${rangeOf(parameter)}`.trim());
  option.argParser((value: string, before: string | undefined) => {
    // `--bore --tool 10`: the word behind is another option, and not the value.
    if (value.startsWith('--'))
      throw new UsageError(wantsValue(`--${parameter.name}`, placeholderOf(parameter).slice(1, -1)));
    return parameter.kind === 'points' && before !== undefined ? `${before};${value}` : value;
  });
  option.helpGroup(`${parameter.group ?? 'Other'}:`);
  return option;
};

/** Units that a value is in; other words in brackets say how it is written. */
const UNIT = /^(?:mm|mm\/min|mm\/tooth|m\/min|rev\/min|°|%|N·m)$/;

/** "--depth wants a value in mm." `what`: what stands in the brackets behind the option in the help. */
export const wantsValue = (name: string, what: string): string => {
  if (UNIT.test(what)) return `${name} wants a value in ${what}.`;
  if (what === 'number') return `${name} wants a number.`;
  return what.includes('|')
    ? `${name} wants one of ${what.replaceAll('|', ', ')}.`
    : `${name} wants a value (${what}).`;
};

const wordsOf = ({ choices }: ChoiceParameter, between: string): string =>
  choices.map(({ value }) => value).join(between);

const placeholderOf = (parameter: Parameter): string => {
  switch (parameter.kind) {
    case 'number':
      return `<${parameter.unit === '' ? 'number' : parameter.unit}>`;
    case 'pair':
      return `<${parameter.unit === '' ? 'number' : parameter.unit}[,…]>`;
    case 'yes-no':
      return '[yes|no]';
    case 'choice':
      return `<${wordsOf(parameter, '|')}>`;
    case 'choices':
      return '<word,…>';
    case 'point':
      return '<x,y>';
    case 'points':
      return '<x,y;…>';
    case 'thread':
      return '<thread>';
    case 'text':
      return '<words>';
  }
};

/** "(needed, more than 0)", "(0 to 10, default 1)". */
const rangeOf = (parameter: Parameter): string => {
  const parts = [
    parameter.needed === true ? 'needed' : '',
    parameter.kind === 'number' ? boundsOf(parameter) : '',
    parameter.kind === 'choices' ? `one or more of ${wordsOf(parameter, ', ')}` : '',
    parameter.kind === 'thread' ? 'M10, M10X1.25, 1/4-20 UNC, G1/4, or diameter x pitch: 21x1.5' : '',
    parameter.fallback === undefined ? '' : `default ${parameter.fallback}`,
  ].filter((part) => part !== '');
  return parts.length === 0 ? '' : `(${parts.join(', ')})`;
};

const boundsOf = ({ least, above, most, whole }: NumberParameter): string => {
  const kind = whole === true ? 'whole number ' : '';
  const from = above !== undefined ? `more than ${short(above)}` : least !== undefined ? `${short(least)} or more` : '';
  if (most === undefined) return (kind + from).trim();
  if (from === '') return `${kind}at most ${short(most)}`;
  return least !== undefined ? `${kind}${short(least)} to ${short(most)}` : `${kind}${from}, at most ${short(most)}`;
};

/** Prints the block; where it cannot be, all that keeps it on standard error, each in a line of its own. @throws UsageError */
async function writeBlock(kind: BlockKind, command: Command, output: Output): Promise<void> {
  const options = command.optsWithGlobals<BlockOptions>();
  const { configuration } = new ShopFileFinder(options).for('-');
  const { raw, others } = valuesOf(kind, command);
  const { lines, problems, facts, words } = generateBlock(kind, raw, contextAlone(configuration, options.programUnits));
  const wrong = [...problems.map(told), ...others.map((word) => `${word} belongs to no parameter.`)];
  if (wrong.length === 1) throw new UsageError(wrong[0]);
  if (wrong.length > 0 || lines === undefined) {
    throw new UsageError(`the block ${kind.name} is not written, for ${wrong.length} reasons:`, wrong);
  }
  await output.write(`${lines.join('\n')}\n`);
  await output.flush();
  if (options.facts === true) for (const { label, text } of facts) process.stderr.write(`${label}: ${text}\n`);
  for (const word of words) cautionOnError(told(word));
}

const told = ({ parameter, message }: Problem): string =>
  parameter === undefined ? message : `--${parameter}: ${message}`;

/** The values as typed, those of unknown names among them, and words that belong to none. */
function valuesOf(kind: BlockKind, command: Command): { raw: Record<string, string>; others: string[] } {
  const raw: Record<string, string> = {};
  const others: string[] = [];
  for (const { name } of kind.parameters) {
    const option = command.options.find(({ long }) => long === `--${name}`);
    const value: unknown = option === undefined ? undefined : command.getOptionValue(option.attributeName());
    if (value !== undefined) raw[name] = value === true ? 'yes' : String(value);
  }
  const rest = [...command.args];
  for (let word = rest.shift(); word !== undefined; word = rest.shift()) {
    const [, name, value] = /^--([^=]+)(?:=(.*))?$/s.exec(word) ?? [];
    if (name === undefined) others.push(word);
    else raw[name] = value ?? (rest[0]?.startsWith('--') === false ? rest.shift() : undefined) ?? 'yes';
  }
  return { raw, others };
}

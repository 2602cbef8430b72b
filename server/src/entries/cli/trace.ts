/** `blockwright trace`: the path of a program move by move, as JSON, CSV or a drawing. */
import type { Analysis } from '../../core/checks/analysis.ts';
import { svgPieces } from '../../core/features/svg.ts';
import { type Point, type TracedMove, tracedMoves } from '../../core/features/trace.ts';
import { type Extents, TraceSummary } from '../../core/features/traceSummary.ts';
import { toolList } from '../../core/features/traceTools.ts';
import type { Configuration } from '../../core/machine/configuration.ts';
import { analyse, findingsOf } from './findings.ts';
import { ExitCode, type Output, Progress, sayOnError } from './output.ts';
import { ensureReadable, readProgram } from './programFile.ts';
import { type ConfigurationOptions, ShopFileFinder } from './shopFile.ts';
import { SubprogramFolders } from './subprogramFolder.ts';

/** Options of `trace`. */
export interface TraceOptions extends ConfigurationOptions {
  readonly format: 'json' | 'csv' | 'svg';
  readonly plane: TracedMove['plane'];
  /** Of text that people read: CSV and the dimensions of a drawing. */
  readonly units: 'mm' | 'inch';
  /** Also machine positions (JSON and CSV). */
  readonly machine?: boolean;
}

/** Prints the path of a program. @throws UsageError */
export async function trace(name: string, options: TraceOptions, output: Output): Promise<void> {
  ensureReadable([name]);
  const { configuration } = new ShopFileFinder(options).for(name);
  const file = await readProgram(name);
  const progress = new Progress();
  const host = new SubprogramFolders().hostFor(name, configuration.profile.colon !== 'alignment');
  const analysis = analyse(file, configuration, host, progress);
  const { hasErrors } = findingsOf(file, analysis, 'error');
  process.exitCode = hasErrors ? ExitCode.errors : ExitCode.fine;
  const source: Source = { name, analysis, configuration, progress, withMachine: options.machine === true };
  if (options.format === 'json') await printJson(source, output);
  else if (options.format === 'csv') await printCsv(source, options.units, output);
  else await printSvg(source, options, output);
  await output.flush();
  progress.clear();
  tellDoubts(source, hasErrors);
}

interface Source {
  readonly name: string;
  readonly analysis: Analysis;
  readonly configuration: Configuration;
  readonly progress: Progress;
  readonly withMachine: boolean;
}

/** Moves between two looks at the progress line. */
const LOOK = 10_000;

function* movesOf({ name, analysis, configuration, progress, withMachine }: Source): Generator<TracedMove> {
  let count = 0;
  const { machine, profile } = configuration;
  for (const move of tracedMoves(analysis, { helixFeed: profile.helixFeed, machine, withMachine })) {
    // On a terminal the path itself is seen running by.
    if (++count % LOOK === 0 && process.stdout.isTTY !== true) progress.show(name, move.line / analysis.lineCount);
    yield move;
  }
}

/** Who acts on a path must know where it is not to be relied on. */
function tellDoubts({ name, analysis }: Source, hasErrors: boolean): void {
  const { stopped } = analysis;
  if (stopped) sayOnError(`${name}: the path is not complete from line ${stopped.line + 1} on: ${stopped.why}`);
  if (hasErrors) sayOnError(`${name}: errors were found, so the path may be wrong; check shows them`);
}

/** A number for JSON, to a millionth of a micrometre; null where it is not known. */
function jsonNumber(value: number): string {
  if (!Number.isFinite(value)) return 'null';
  return String(Math.abs(value) < 1e6 ? Math.round(value * 1e9) / 1e9 + 0 : value);
}

const jsonPoint = ([x, y, z]: Point): string => `[${jsonNumber(x)},${jsonNumber(y)},${jsonNumber(z)}]`;

function jsonMove(move: TracedMove): string {
  const { line, kind, from, to, offset, plane, arc } = move;
  const ofArc = arc
    ? `,"centre":${jsonPoint(arc.centre)},"radius":${jsonNumber(arc.radius)},"endRadius":${jsonNumber(arc.endRadius)}` +
      `,"sweep":${jsonNumber(arc.sweep)},"clockwise":${arc.clockwise}`
    : '';
  const ofMachine =
    move.fromMachine && move.toMachine
      ? `,"fromMachine":${jsonPoint(move.fromMachine)},"toMachine":${jsonPoint(move.toMachine)}`
      : '';
  const feed = kind === 'line' || kind === 'arc' ? `,"feed":${jsonNumber(move.feed)}` : '';
  return (
    `{"line":${line + 1},"kind":"${kind}","from":${jsonPoint(from)},"to":${jsonPoint(to)}${ofMachine},"offset":"${offset}"` +
    `,"plane":"${plane}"${ofArc}${feed},"speed":${jsonNumber(move.speed)},"tool":${jsonNumber(move.tool)}` +
    `,"length":${jsonNumber(move.length)},"seconds":${jsonNumber(move.seconds)}}`
  );
}

const jsonExtents = (extents: Extents | undefined): string =>
  extents ? `{"min":${jsonPoint(extents.min)},"max":${jsonPoint(extents.max)}}` : 'null';

async function printJson(source: Source, output: Output): Promise<void> {
  const summary = new TraceSummary();
  await output.write(`{"version":1,"file":${JSON.stringify(source.name)},"units":"mm","moves":[`);
  let separator = '\n';
  for (const move of movesOf(source)) {
    if (output.isGone) return;
    summary.add(move);
    await output.write(separator + jsonMove(move));
    separator = ',\n';
  }
  await output.write(`\n],${jsonTotals(source, summary)}}\n`);
}

function jsonTotals({ analysis, configuration }: Source, summary: TraceSummary): string {
  const { length, seconds } = summary;
  const tools = toolList(analysis, configuration.tools, summary.tools).map(
    (tool) =>
      `{"number":${jsonNumber(tool.number)},"line":${tool.line + 1},"description":${JSON.stringify(tool.description)}` +
      `,"length":${jsonNumber(tool.length)},"seconds":${jsonNumber(tool.seconds)}}`,
  );
  const { stopped } = analysis;
  return [
    `"extents":${jsonExtents(summary.extents)}`,
    `"cut":${jsonExtents(summary.cut)}`,
    `"length":{"rapid":${jsonNumber(length.rapid)},"cut":${jsonNumber(length.cut)}}`,
    `"seconds":{"rapid":${jsonNumber(seconds.rapid)},"cut":${jsonNumber(seconds.cut)},"dwell":${jsonNumber(seconds.dwell)},"total":${jsonNumber(summary.totalSeconds)}}`,
    `"tools":[${tools.join(',')}]`,
    `"complete":${stopped === undefined}`,
    ...(stopped ? [`"stopped":{"line":${stopped.line + 1},"why":${JSON.stringify(stopped.why)}}`] : []),
  ].join(',');
}

const CSV_HEAD =
  'line,kind,from.x,from.y,from.z,to.x,to.y,to.z,offset,plane,centre.x,centre.y,centre.z,radius,endRadius,sweep,clockwise,feed,speed,tool,length,seconds';

const csvNumber = (value: number | undefined): string =>
  value === undefined || !Number.isFinite(value) ? '' : jsonNumber(value);

const CSV_MACHINE = ',fromMachine.x,fromMachine.y,fromMachine.z,toMachine.x,toMachine.y,toMachine.z';

async function printCsv(source: Source, units: TraceOptions['units'], output: Output): Promise<void> {
  const inUnits = (value: number | undefined) =>
    csvNumber(value === undefined || units === 'mm' ? value : value / 25.4);
  await output.write(`${CSV_HEAD}${source.withMachine ? CSV_MACHINE : ''}\n`);
  for (const move of movesOf(source)) {
    if (output.isGone) return;
    const { arc } = move;
    const centre = arc?.centre ?? [undefined, undefined, undefined];
    const cells = [
      String(move.line + 1),
      move.kind,
      ...[...move.from, ...move.to].map(inUnits),
      move.offset,
      move.plane,
      ...[...centre, arc?.radius, arc?.endRadius].map(inUnits),
      csvNumber(arc?.sweep),
      arc ? String(arc.clockwise) : '',
      inUnits(move.feed),
      ...[move.speed, move.tool].map(csvNumber),
      inUnits(move.length),
      csvNumber(move.seconds),
      ...[...(move.fromMachine ?? []), ...(move.toMachine ?? [])].map(inUnits),
    ];
    await output.write(`${cells.join(',')}\n`);
  }
}

async function printSvg(source: Source, { plane, units }: TraceOptions, output: Output): Promise<void> {
  const summary = new TraceSummary();
  for (const move of movesOf(source)) summary.add(move);
  const complete = source.analysis.stopped === undefined;
  const drawing = { name: source.name, plane, extents: summary.extents, complete, units };
  for (const piece of svgPieces(drawing, movesOf(source))) {
    if (output.isGone) return;
    await output.write(piece);
  }
}

/** Where something comes from, see `core/features/definition.ts`. */
import { type CancellationToken, type Connection, Location, LocationLink, Range } from 'vscode-languageserver';
import { callersIn } from '../core/features/callHierarchy.ts';
import { type Definition, definitionAt } from '../core/features/definition.ts';
import type { OriginPlace } from '../core/features/modeOrigin.ts';
import { headLineOf, headOfLine } from '../core/features/referencesNames.ts';
import { type TextSpan, textOfAnalysis, textOfFile } from '../core/features/referencesText.ts';
import type { Program } from './programs.ts';
import type { Server } from './server.ts';
import { callersAmong, isFoundByNumber, siblingTexts } from './siblingPrograms.ts';
import { inSlices } from './slices.ts';
import { placeAsked } from './upToDate.ts';

/** Registers the handler. */
export function listenToDefinition(connection: Connection, server: Server): void {
  connection.onDefinition((params, token) => definition(server, params, token));
}

async function definition(
  server: Server,
  params: unknown,
  token: CancellationToken,
): Promise<Location[] | LocationLink[] | null> {
  const asked = await placeAsked(server, params, token);
  if (!asked) return null;
  const { program, line, column } = asked;
  const { analysis, configuration } = program;
  const found = definitionAt(analysis, configuration, line, column);
  if (found === undefined) return null;
  const locations = [
    ...placesIn(server, program, found),
    ...programPlace(server, program, found.program),
    ...(await callsElsewhere(server, program, found.calledAs, token)),
  ];
  if (locations.length === 0) return null;
  if (!server.client.linksDefinitions) return locations;
  const origin = Range.create(line, found.column, line, found.endColumn);
  return locations.map(({ uri, range }) => LocationLink.create(uri, range, range, origin));
}

/** A place of a text as a range. */
export const spanRange = ({ line, column, endColumn }: TextSpan): Range => Range.create(line, column, line, endColumn);

const placesIn = (server: Server, program: Program, { places }: Definition): Location[] =>
  places.flatMap((place: OriginPlace) => {
    const uri = place.program === undefined ? program.uri : server.subprograms.fileOf(program, place.program)?.uri;
    return uri === undefined ? [] : [Location.create(uri, spanRange(place))];
  });

/** The head of a program in a file of its own. */
const programPlace = (server: Server, program: Program, number: number | undefined): Location[] => {
  const file = number === undefined ? undefined : server.subprograms.fileOf(program, number);
  if (file === undefined || number === undefined) return [];
  const text = textOfFile(file.text, program.configuration.profile);
  const unit = text.layout.unitOfNumber(number) ?? text.layout.units[0];
  const line = Math.max(0, headLineOf(text, unit));
  const head = headOfLine(text, line);
  const span = { line, column: head?.first ?? 0, endColumn: head?.endColumn ?? 0 };
  return [Location.create(file.uri, spanRange(span))];
};

/** Calls of a program by others of its folder. */
async function callsElsewhere(
  server: Server,
  program: Program,
  number: number | undefined,
  token: CancellationToken,
): Promise<Location[]> {
  const { analysis, configuration } = program;
  if (number === undefined || !isFoundByNumber(textOfAnalysis(analysis, configuration.profile), number)) return [];
  const { texts } = await siblingTexts(server, program);
  const locations: Location[] = [];
  for (const { uri, text } of callersAmong(texts, number)) {
    const callers = await inSlices(server, program, callersIn(text, number), token);
    for (const { calls } of callers) locations.push(...calls.map((call) => Location.create(uri, spanRange(call))));
  }
  return locations;
}

/** Uses of what stands at a place, and their highlights, see `core/features/references.ts`. */
import {
  type CancellationToken,
  type Connection,
  type DocumentHighlight,
  DocumentHighlightKind,
  Location,
  MessageType,
  ShowMessageNotification,
} from 'vscode-languageserver';
import { highlightsAt } from '../core/features/highlights.ts';
import { type References, referencesAt } from '../core/features/references.ts';
import { programPlaces } from '../core/features/referencesNames.ts';
import { textOfAnalysis } from '../core/features/referencesText.ts';
import { spanRange } from './definition.ts';
import type { Program } from './programs.ts';
import type { Server } from './server.ts';
import { isFoundByNumber, siblingTexts } from './siblingPrograms.ts';
import { inSlices } from './slices.ts';
import { placeAsked } from './upToDate.ts';

/** Uses that are listed at most. */
const MOST = 5000;

/** Registers the handlers. */
export function listenToReferences(connection: Connection, server: Server): void {
  connection.onReferences(async (params, token) => {
    const found = await references(server, params, token);
    if (found?.isCutShort) {
      const message = `The first ${MOST.toLocaleString('en-GB')} uses are listed, and there are more.`;
      void connection.sendNotification(ShowMessageNotification.type, { type: MessageType.Info, message });
    }
    return found?.locations ?? null;
  });
  connection.onDocumentHighlight((params, token) => highlights(server, params, token));
}

async function references(
  server: Server,
  params: unknown,
  token: CancellationToken,
): Promise<{ readonly locations: Location[]; readonly isCutShort: boolean } | undefined> {
  const asked = await placeAsked(server, params, token);
  if (!asked) return undefined;
  const { program, line, column } = asked;
  const { analysis, configuration } = program;
  const found = await inSlices(server, program, referencesAt(analysis, configuration, line, column, MOST), token);
  if (found === undefined) return undefined;
  const wantsSet = (params as { context?: { includeDeclaration?: unknown } }).context?.includeDeclaration !== false;
  const own = found.places.filter(({ isSet }) => wantsSet || !isSet);
  const locations = own.map((place) => Location.create(program.uri, spanRange(place)));
  locations.push(...(await usesElsewhere(server, program, found, wantsSet, token)));
  return { locations: locations.slice(0, MOST), isCutShort: found.isCutShort || locations.length > MOST };
}

/** Calls of a program in the other files of the folder, and its head where it is in one of them. */
async function usesElsewhere(
  server: Server,
  program: Program,
  { program: number }: References,
  wantsSet: boolean,
  token: CancellationToken,
): Promise<Location[]> {
  if (number === undefined) return [];
  const own = textOfAnalysis(program.analysis, program.configuration.profile);
  const isHere = own.layout.unitOfNumber(number) !== undefined;
  if (isHere && !isFoundByNumber(own, number)) return [];
  const { texts } = await siblingTexts(server, program);
  const locations: Location[] = [];
  for (const { uri, text } of texts) {
    const { layout } = text;
    if (layout.unitOfNumber(number) !== undefined && (isHere || !isFoundByNumber(text, number))) continue;
    const places = await inSlices(server, program, programPlaces(text, number, MOST), token);
    const wanted = places.filter(({ isSet }) => wantsSet || !isSet);
    locations.push(...wanted.map((place) => Location.create(uri, spanRange(place))));
    if (locations.length > MOST) break;
  }
  return locations;
}

async function highlights(
  server: Server,
  params: unknown,
  token: CancellationToken,
): Promise<DocumentHighlight[] | null> {
  const asked = await placeAsked(server, params, token);
  if (!asked) return null;
  const { program, line, column } = asked;
  const { analysis, configuration } = program;
  const found = await inSlices(server, program, highlightsAt(analysis, configuration, line, column), token);
  if (found === undefined) return null;
  return found.map((place) => ({
    range: spanRange(place),
    kind: place.isSet ? DocumentHighlightKind.Write : DocumentHighlightKind.Read,
  }));
}

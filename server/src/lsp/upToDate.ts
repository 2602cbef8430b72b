/** The first step of every answer about a program. */
import type { CancellationToken } from 'vscode-languageserver';
import { lineWithin, positionOf, uriOf } from './params.ts';
import type { Program } from './programs.ts';
import type { Server } from './server.ts';

/** The program that a request is about, up to date; undefined for a shop's file, of which there is nothing to say. */
export async function upToDate(
  server: Server,
  params: unknown,
  token: CancellationToken,
): Promise<Program | undefined> {
  const uri = uriOf(params);
  if (server.shopTexts.has(uri)) return undefined;
  const program = server.programs.need(uri);
  await server.runs.upToDate(program, token);
  return program;
}

/** A place of a program that is up to date; line and column from 0, the column within the line. */
export interface AskedPlace {
  readonly program: Program;
  readonly line: number;
  readonly column: number;
}

/** The place that a request is about; undefined in a shop's file. Lines past the end get an error answer. */
export async function placeAsked(
  server: Server,
  params: unknown,
  token: CancellationToken,
): Promise<AskedPlace | undefined> {
  const { line, character } = positionOf(params);
  const program = await upToDate(server, params, token);
  if (!program) return undefined;
  const { analysis } = program;
  lineWithin(line, analysis.lineCount);
  return { program, line, column: Math.min(character, analysis.lineText(line).length) };
}

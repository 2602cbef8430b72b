/** The first step of every answer about a program. */
import type { CancellationToken } from 'vscode-languageserver';
import { uriOf } from './params.ts';
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

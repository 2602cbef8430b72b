/** Colours of words by what they mean where they stand; asked for by range only, so that a long program costs no more. */
import type { Connection, SemanticTokens, SemanticTokensLegend } from 'vscode-languageserver';
import { semanticTokens } from '../core/features/semanticTokens.ts';
import {
  TOKEN_KINDS,
  TOKEN_MODIFIERS,
  type TokenKind,
  type TokenModifier,
} from '../core/features/semanticTokensWords.ts';
import { lineWithin, rangeOf } from './params.ts';
import type { Server } from './server.ts';
import { upToDate } from './upToDate.ts';

/** What each kind is called for a client that colours the protocol's own kinds only. */
const STANDARD: Readonly<Record<TokenKind, string>> = {
  motion: 'keyword',
  mode: 'function',
  machineFunction: 'function',
  axis: 'parameter',
  arcWord: 'enumMember',
  cycleWord: 'property',
  codeWord: 'property',
  feed: 'type',
  speed: 'type',
  tool: 'class',
  argument: 'parameter',
  variable: 'variable',
  sequenceNumber: 'label',
  program: 'namespace',
  thread: 'struct',
};

/** The names of kinds and modifiers by number: the server's own for a client that says it colours them. */
export const semanticTokensLegend = (coloursOwnKinds: boolean): SemanticTokensLegend => ({
  tokenTypes: TOKEN_KINDS.map((kind) => (coloursOwnKinds ? kind : STANDARD[kind])),
  tokenModifiers: [...TOKEN_MODIFIERS],
});

const KIND_NUMBERS = new Map<TokenKind, number>(TOKEN_KINDS.map((kind, number) => [kind, number]));
const MODIFIER_BITS = new Map<TokenModifier, number>(TOKEN_MODIFIERS.map((modifier, bit) => [modifier, 1 << bit]));

/** Answers the words of a range of lines. */
export function listenToSemanticTokens(connection: Connection, server: Server): void {
  connection.languages.semanticTokens.onRange(async (params, token): Promise<SemanticTokens> => {
    const { start, end } = rangeOf(params);
    const program = await upToDate(server, params, token);
    if (!program) return { data: [] };
    const { analysis, configuration } = program;
    lineWithin(start.line, analysis.lineCount);
    const lastLine = end.character === 0 && end.line > start.line ? end.line - 1 : end.line;
    const data: number[] = [];
    let [line, column] = [0, 0];
    for (const found of semanticTokens(analysis, configuration, start.line, lastLine)) {
      if (found.line !== line) column = 0;
      const bits = found.modifiers.reduce((sum, modifier) => sum | (MODIFIER_BITS.get(modifier) ?? 0), 0);
      const kind = KIND_NUMBERS.get(found.kind) ?? 0;
      data.push(found.line - line, found.column - column, found.endColumn - found.column, kind, bits);
      [line, column] = [found.line, found.column];
    }
    return { data };
  });
}

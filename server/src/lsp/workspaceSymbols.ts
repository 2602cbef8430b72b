/** Programs and tools of all known programs: the open ones and the files beside them. */
import { type CancellationToken, type Connection, SymbolInformation, SymbolKind } from 'vscode-languageserver';
import { textOfAnalysis } from '../core/features/referencesText.ts';
import { fitsQuery, symbolsOf, type TextSymbol } from '../core/features/workspaceSymbols.ts';
import { placeOf } from './addresses.ts';
import { spanRange } from './definition.ts';
import { invalidParams } from './params.ts';
import type { Server } from './server.ts';
import { siblingTexts } from './siblingPrograms.ts';

/** Symbols that are listed at most. */
const MOST = 1000;
/** Files are read again after so long, ms: the list is asked for with every letter that is typed. */
const KEPT = 3000;

const KINDS = { program: SymbolKind.Module, tool: SymbolKind.Class } as const;

interface FileSymbols {
  readonly uri: string;
  readonly name: string;
  readonly symbols: readonly TextSymbol[];
}

/** Registers the handler. */
export function listenToWorkspaceSymbols(connection: Connection, server: Server): void {
  const search = new SymbolSearch(server);
  connection.onWorkspaceSymbol((params, token) => search.find(params, token));
}

class SymbolSearch {
  private readonly server: Server;
  private kept: { readonly files: Promise<readonly FileSymbols[]>; readonly at: number } | undefined;

  constructor(server: Server) {
    this.server = server;
  }

  async find(params: unknown, token: CancellationToken): Promise<SymbolInformation[]> {
    const query: unknown = (params as { query?: unknown } | null)?.query;
    if (typeof query !== 'string') throw invalidParams('query is missing');
    const now = performance.now();
    if (this.kept === undefined || now - this.kept.at > KEPT) this.kept = { files: this.readAll(), at: now };
    const files = await this.kept.files;
    const found: SymbolInformation[] = [];
    for (const { uri, name, symbols } of files) {
      for (const symbol of symbols) {
        if (found.length >= MOST || token.isCancellationRequested) return found;
        if (!fitsQuery(symbol.name, query)) continue;
        found.push(SymbolInformation.create(symbol.name, KINDS[symbol.kind], spanRange(symbol), uri, name));
      }
    }
    return found;
  }

  private async readAll(): Promise<readonly FileSymbols[]> {
    const files = new Map<string, FileSymbols>();
    const folders = new Set<string>();
    for (const program of [...this.server.programs.all()]) {
      await program.configured;
      const place = placeOf(program.uri);
      const name = place?.name ?? program.uri.slice(program.uri.lastIndexOf('/') + 1);
      const text = textOfAnalysis(program.analysis, program.configuration.profile);
      files.set(program.uri, { uri: program.uri, name, symbols: await this.inSlices(symbolsOf(text)) });
      if (place === undefined || folders.has(place.folder)) continue;
      folders.add(place.folder);
      for (const sibling of (await siblingTexts(this.server, program)).texts) {
        if (sibling.version !== null) continue;
        files.set(sibling.uri, { ...sibling, symbols: await this.inSlices(symbolsOf(sibling.text)) });
      }
    }
    return [...files.values()].sort((a, b) => (a.uri < b.uri ? -1 : 1));
  }

  private async inSlices<Result>(work: Generator<undefined, Result>): Promise<Result> {
    for (;;) {
      const step = work.next();
      if (step.done) return step.value;
      await this.server.host.pause();
    }
  }
}

/** What the client tells: documents opened, changed and closed; settings and files changed. */
import { type Connection, FileChangeType } from 'vscode-languageserver';
import { changesOf, openedOf, uriOf, versionOf } from './params.ts';
import type { Server } from './server.ts';

/** Registers the handlers. A message that cannot be read is logged by the library and changes nothing. */
export function listenToDocuments(connection: Connection, server: Server): void {
  connection.onDidOpenTextDocument((params) => opened(server, params));
  connection.onDidChangeTextDocument((params) => changed(server, params));
  connection.onDidCloseTextDocument((params) => closed(server, uriOf(params)));
  connection.onDidChangeConfiguration((params) => {
    server.settings.changed(params?.settings);
    void server.configureAll();
  });
  connection.onDidChangeWatchedFiles((params) => {
    const changes = (params?.changes ?? []).map((change) => ({ uri: String(change?.uri), type: change?.type }));
    for (const { uri, type } of changes) server.subprograms.fileChanged(uri, type !== FileChangeType.Changed);
    const uris = changes.map(({ uri }) => uri).filter((uri) => server.shopFiles.concerns(uri));
    if (uris.length === 0) return;
    for (const uri of uris) server.shopFiles.forget(uri);
    for (const uri of server.shopTexts.all()) void server.pushProblems(uri);
    void server.configureAll();
  });
}

function opened(server: Server, params: unknown): void {
  const { uri, version, text } = openedOf(params);
  if (server.shopFiles.is(uri)) {
    server.shopTexts.add(uri, version, text);
    shopTextChanged(server, uri, text);
    return;
  }
  server.shopFiles.forgetAll();
  const program = server.programs.add(uri, version, text);
  server.subprograms.opened(program, !server.client.registersFileWatchers);
  void server.configure(program);
}

function changed(server: Server, params: unknown): void {
  const uri = uriOf(params);
  const changes = changesOf(params);
  if (server.shopTexts.has(uri)) {
    shopTextChanged(server, uri, server.shopTexts.change(uri, versionOf(params), changes));
    return;
  }
  const program = server.programs.need(uri);
  program.version = versionOf(params);
  program.change(changes);
  server.subprograms.edited(program);
  server.runs.start(program);
}

function closed(server: Server, uri: string): void {
  if (server.shopTexts.has(uri)) {
    server.shopTexts.remove(uri);
    shopTextChanged(server, uri, undefined);
    return;
  }
  const program = server.programs.remove(uri);
  if (program) {
    server.subprograms.closed(program);
    server.closed(uri);
  }
}

function shopTextChanged(server: Server, uri: string, text: string | undefined): void {
  server.shopFiles.setEditorText(uri, text);
  if (text !== undefined) void server.pushProblems(uri);
  void server.configureAll();
}

// What the desktop and the browser share: the language client, the rules' pages, the path view, the form of blocks.
import type * as vscode from 'vscode';
import type { BaseLanguageClient, LanguageClientOptions } from 'vscode-languageclient';
import { completeTypedMeanwhile, completeTypedPrefix } from './block/completeTyped.ts';
import { registerBlockForm } from './block/register.ts';
import { registerRepairArc } from './commands/repairArc.ts';
import { registerExplain } from './explainView.ts';
import { registerFirstShopFile } from './firstShopFile.ts';
import type { PathChannel } from './path/channel.ts';
import { registerPathView } from './path/register.ts';
import { answerListFolder, answerReadFile } from './readFile.ts';
import { registerRulePages, withRulePages } from './rulePages.ts';
import { registerStatus } from './statusItems.ts';
import { registerWhichBlock } from './whichBlock.ts';

/** The language of part programs; the server takes any, the client asks for this one. */
const languageId = 'cnc-program';

/** Makes the client for one host; called once. The server's path channel is handed to `connect` at each start of the server. */
export type MakeClient = (
  options: LanguageClientOptions,
  connect: (channel: PathChannel) => void,
) => BaseLanguageClient;

/** Starts everything; the returned client is stopped when the extension goes. */
export async function activateWith(context: vscode.ExtensionContext, makeClient: MakeClient): Promise<void> {
  const paths = new LatestChannel();
  const client = makeClient(clientOptions(), (channel) => paths.connect(channel));
  context.subscriptions.push(
    client,
    answerReadFile(client),
    answerListFolder(client),
    registerRulePages(context),
    registerFirstShopFile(client),
    registerExplain(client),
    registerWhichBlock(client),
    registerStatus(client),
  );
  const preview = registerPathView(context, client, paths);
  context.subscriptions.push(registerRepairArc(client, preview), registerBlockForm(context, client, preview));
  await client.start();
  void completeTypedPrefix(languageId);
}

function clientOptions(): LanguageClientOptions {
  return {
    // The shop's file is sent too: what stands in its editor counts before it is saved.
    documentSelector: [{ language: languageId }, { pattern: '**/blockwright.json' }],
    initializationOptions: {
      readFile: true,
      listFolder: true,
      shopFileSchema: true,
      blockForm: true,
      arcRepairs: true,
      tokenKinds: true,
    },
    middleware: {
      provideCompletionItem: completeTypedMeanwhile,
      handleDiagnostics: (uri, findings, next) => next(uri, findings.map(withRulePages)),
      provideDiagnostics: async (document, previous, token, next) => {
        const report = await next(document, previous, token);
        return report?.kind === 'full' ? { ...report, items: report.items.map(withRulePages) } : report;
      },
    },
  };
}

/** The path channel of the server that runs now; a server that is started again brings a new one. */
class LatestChannel implements PathChannel {
  #channel: PathChannel | undefined;

  connect(channel: PathChannel): void {
    this.#channel = channel;
  }

  request(header: Parameters<PathChannel['request']>[0]): Promise<ArrayBuffer> {
    return this.#channel?.request(header) ?? Promise.reject(new Error('the language server has not started yet'));
  }
}

/** What the client can do, as far as the server asks, and what the server offers it. */
import {
  type ClientCapabilities,
  CodeActionKind,
  DiagnosticTag,
  type InitializeParams,
  type ServerCapabilities,
  TextDocumentSyncKind,
} from 'vscode-languageserver';

/** The blank and the letters of a code's words: there the words of a cycle, an arc or a call are shown. */
const SIGNATURE_TRIGGERS = [' ', ...'ABCDEFHIJKLPQRSTUVWXYZ'];

import { semanticTokensLegend } from './semanticTokens.ts';

/** What the client can do; everything false for a client that says nothing. */
export interface ClientAbilities {
  /** Pulls findings; otherwise they are pushed. Never both. */
  readonly pullsFindings: boolean;
  readonly refreshesFindings: boolean;
  /** Asks again for hints between the words, and for lenses, when it is told to. */
  readonly refreshesHints: boolean;
  readonly refreshesLenses: boolean;
  readonly showsProgress: boolean;
  readonly hasConfiguration: boolean;
  readonly registersConfiguration: boolean;
  readonly registersFileWatchers: boolean;
  /** Watches files in a folder that it is told, also outside of what it has open. */
  readonly watchesAnyFolder: boolean;
  readonly nestsSymbols: boolean;
  readonly versionsEdits: boolean;
  readonly foldingLimit: number;
  /** Answers `blockwright/readFile`. */
  readonly readsFiles: boolean;
  /** Answers `blockwright/listFolder`. */
  readonly listsFolders: boolean;
  /** Tells of the folders that it has open, and of changes of them. */
  readonly hasWorkspaceFolders: boolean;
  /** Checks blockwright.json against the schema itself. */
  readonly checksShopFile: boolean;
  /** Opens the form of a block by the command `blockwright.insertBlock`. */
  readonly hasBlockForm: boolean;
  /** Lists the repairs of a wrong arc by the command `blockwright.repairArc`. */
  readonly listsArcRepairs: boolean;
  /** Shows why an action is not available. */
  readonly showsDisabledActions: boolean;
  /** Colours the server's own kinds of words; other clients are told the protocol's. */
  readonly coloursOwnKinds: boolean;
  /** Takes definitions as links, with the words that they are of. */
  readonly linksDefinitions: boolean;
  /** Asks for the name at a place before it is changed. */
  readonly preparesRename: boolean;
  /** Shows dimmed what a hint marks as not needed. */
  readonly fadesUnneeded: boolean;
  /** Takes tab stops in the text of a completion. */
  readonly takesTabStops: boolean;
  /** Marks parts of a signature's label by their columns. */
  readonly marksPartsOfLabels: boolean;
}

/** Reads what a client announces. */
export function abilitiesOf(params: InitializeParams): ClientAbilities {
  const { textDocument, workspace, window }: ClientCapabilities = params.capabilities ?? {};
  const options: unknown = params.initializationOptions;
  const says = (key: string): boolean =>
    typeof options === 'object' && options !== null && (options as Record<string, unknown>)[key] === true;
  return {
    pullsFindings: textDocument?.diagnostic !== undefined && textDocument.diagnostic !== null,
    refreshesFindings: workspace?.diagnostics?.refreshSupport === true,
    refreshesHints: workspace?.inlayHint?.refreshSupport === true,
    refreshesLenses: workspace?.codeLens?.refreshSupport === true,
    showsProgress: window?.workDoneProgress === true,
    hasConfiguration: workspace?.configuration === true,
    registersConfiguration: workspace?.didChangeConfiguration?.dynamicRegistration === true,
    registersFileWatchers: workspace?.didChangeWatchedFiles?.dynamicRegistration === true,
    watchesAnyFolder: workspace?.didChangeWatchedFiles?.relativePatternSupport === true,
    nestsSymbols: textDocument?.documentSymbol?.hierarchicalDocumentSymbolSupport === true,
    versionsEdits: workspace?.workspaceEdit?.documentChanges === true,
    foldingLimit: textDocument?.foldingRange?.rangeLimit ?? 5000,
    readsFiles: says('readFile'),
    listsFolders: says('listFolder'),
    hasWorkspaceFolders: workspace?.workspaceFolders === true,
    checksShopFile: says('shopFileSchema'),
    hasBlockForm: says('blockForm'),
    listsArcRepairs: says('arcRepairs'),
    showsDisabledActions: textDocument?.codeAction?.disabledSupport === true,
    coloursOwnKinds: says('tokenKinds'),
    fadesUnneeded: [textDocument?.diagnostic, textDocument?.publishDiagnostics].some(
      (said) => said?.tagSupport?.valueSet?.includes(DiagnosticTag.Unnecessary) === true,
    ),
    linksDefinitions: textDocument?.definition?.linkSupport === true,
    preparesRename: textDocument?.rename?.prepareSupport === true,
    takesTabStops: textDocument?.completion?.completionItem?.snippetSupport === true,
    marksPartsOfLabels:
      textDocument?.signatureHelp?.signatureInformation?.parameterInformation?.labelOffsetSupport === true,
  };
}

/** What the server offers. */
export function serverCapabilities(client: ClientAbilities): ServerCapabilities {
  return {
    positionEncoding: 'utf-16',
    textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental },
    hoverProvider: true,
    completionProvider: { triggerCharacters: ['#'] },
    signatureHelpProvider: { triggerCharacters: SIGNATURE_TRIGGERS },
    semanticTokensProvider: { legend: semanticTokensLegend(client.coloursOwnKinds), range: true, full: false },
    documentSymbolProvider: true,
    workspaceSymbolProvider: true,
    definitionProvider: true,
    referencesProvider: true,
    documentHighlightProvider: true,
    renameProvider: client.preparesRename ? { prepareProvider: true } : true,
    callHierarchyProvider: true,
    documentLinkProvider: { resolveProvider: false },
    foldingRangeProvider: true,
    selectionRangeProvider: true,
    workspace: { workspaceFolders: { supported: true, changeNotifications: true } },
    codeActionProvider: {
      codeActionKinds: [CodeActionKind.QuickFix, CodeActionKind.RefactorRewrite, CodeActionKind.Source],
    },
    documentFormattingProvider: true,
    documentRangeFormattingProvider: true,
    documentOnTypeFormattingProvider: { firstTriggerCharacter: '\n' },
    codeLensProvider: { resolveProvider: false },
    inlayHintProvider: true,
    ...(client.pullsFindings && {
      diagnosticProvider: { identifier: 'blockwright', interFileDependencies: true, workspaceDiagnostics: false },
    }),
  };
}

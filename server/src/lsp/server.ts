/** The language server: what lives as long as it does, and how documents, settings and runs are tied together. */
import {
  CodeLensRefreshRequest,
  type Connection,
  type Diagnostic,
  DidChangeConfigurationNotification,
  DidChangeWatchedFilesNotification,
  type InitializeParams,
  type InitializeResult,
  MessageType,
  ShowMessageNotification,
} from 'vscode-languageserver';
import { DEFAULT_CONFIGURATION } from '../core/machine/configuration.ts';
import { siblingAddress } from './addresses.ts';
import { abilitiesOf, type ClientAbilities, serverCapabilities } from './capabilities.ts';
import { toProblemDiagnostic } from './convert.ts';
import { listenToDocuments } from './documentHandlers.ts';
import { FindingReports } from './findingReports.ts';
import type { FileStart, ServerHost } from './host.ts';
import { LookAhead } from './lookAhead.ts';
import type { PathLookup } from './pathHandover.ts';
import { type Program, Programs } from './programs.ts';
import { ListFolderRequest, PathChangedNotification, ReadFileRequest } from './protocol.ts';
import { listenToRequests } from './requestHandlers.ts';
import { type RunProgress, Runs } from './runs.ts';
import { EditorSettings } from './settings.ts';
import { configurationOf, type ShopFile, ShopFiles } from './shopFiles.ts';
import { ShopTexts } from './shopTexts.ts';
import { Subprograms } from './subprograms.ts';
import { UnneededReports } from './unneeded.ts';

/** Starts the language server on a connection; messages are answered from here on. */
export function startServer(connection: Connection, host: ServerHost): void {
  const server = new Server(connection, host);
  connection.onInitialize((params) => server.initialize(params));
  connection.onInitialized(() => server.initialized());
  listenToDocuments(connection, server);
  listenToRequests(connection, server);
  host.servePaths?.(server.lookUpPath);
  connection.listen();
}

/** Everything the handlers share. */
export class Server {
  readonly subprograms: Subprograms;
  readonly programs: Programs;
  readonly shopTexts = new ShopTexts();
  readonly shopFiles: ShopFiles;
  readonly settings: EditorSettings;
  readonly reports: FindingReports;
  readonly runs: Runs;
  readonly unneeded: UnneededReports;
  private readonly lookAhead: LookAhead;
  readonly host: ServerHost;
  client: ClientAbilities = abilitiesOf({ processId: null, rootUri: null, capabilities: {} });
  private readonly connection: Connection;
  /** The id of the report that each program's client was sent last. */
  private readonly pushed = new WeakMap<Program, string>();
  /** Programs whose path was asked for. */
  private readonly pathWanted = new Set<string>();
  /** Shop's files that were told of as wrong, with what was told. */
  private readonly toldProblems = new Map<string, string>();

  constructor(connection: Connection, host: ServerHost) {
    this.connection = connection;
    this.host = host;
    this.settings = new EditorSettings(connection);
    this.unneeded = new UnneededReports({
      pause: () => host.pause(),
      isOn: (program) => this.settings.isOn(program.uri, 'dim'),
      changed: (program) => {
        this.push(program);
        void this.refresh();
      },
    });
    this.reports = new FindingReports(host.rulePage, (program) => this.unneeded.of(program));
    this.shopFiles = new ShopFiles(
      (uri) => this.readFile(uri),
      (uri) => this.watch(uri),
      host.shopFile,
    );
    this.subprograms = new Subprograms({
      listFolder: (beside) => this.listFolder(beside.slice(0, beside.lastIndexOf('/'))),
      readStart: (beside, name, most, within) => this.readStart(siblingAddress(beside, name), most, within),
      programs: () => this.programs.all(),
      tell: (message) =>
        void connection.sendNotification(ShowMessageNotification.type, { type: MessageType.Warning, message }),
      watchFolder: (beside) => this.watchFolder(beside),
      runAgain: (program, wasTold) => this.runAgain(program, wasTold),
    });
    this.programs = new Programs((program) => this.subprograms.hostFor(program));
    this.lookAhead = new LookAhead(() => host.pause());
    this.runs = new Runs({
      pause: () => host.pause(),
      showProgress: () => this.showProgress(),
      finished: (program) => this.finished(program),
      foundMore: (program) => {
        this.finished(program);
        void this.refresh();
      },
      failed: (program) => connection.console.error(`${program.uri}: ${program.failure}`),
    });
  }

  /** Takes in what the client can do, says what the server can. */
  initialize(params: InitializeParams): InitializeResult {
    this.client = abilitiesOf(params);
    const { hasConfiguration, registersConfiguration } = this.client;
    this.settings.initialize(hasConfiguration, registersConfiguration, params.initializationOptions);
    const { workspaceFolders, rootUri } = params;
    this.subprograms.setRoots(workspaceFolders?.map(({ uri }) => uri) ?? (rootUri ? [rootUri] : []));
    return { capabilities: serverCapabilities(this.client), serverInfo: { name: 'blockwright' } };
  }

  /** Asks to be told of settings and shop's files. */
  initialized(): void {
    const { client } = this.connection;
    if (this.client.registersConfiguration) {
      void client.register(DidChangeConfigurationNotification.type, { section: 'blockwright' });
    }
    if (this.client.hasWorkspaceFolders) {
      const { workspace } = this.connection;
      workspace.onDidChangeWorkspaceFolders(async () => {
        const folders = await workspace.getWorkspaceFolders().catch(() => null);
        this.subprograms.setRoots(folders?.map(({ uri }) => uri) ?? []);
      });
    }
    if (this.client.registersFileWatchers) {
      void client.register(DidChangeWatchedFilesNotification.type, {
        watchers: [{ globPattern: '**/blockwright.json' }],
      });
      if (this.host.shopFile !== undefined) this.watch(this.host.shopFile);
    }
  }

  /** Asks to be told of changes of a file that a profile is read from. */
  private watch(uri: string): void {
    if (!this.client.registersFileWatchers) return;
    const slash = uri.lastIndexOf('/');
    const name = uri.slice(slash + 1).replaceAll(/(?:%[0-9a-f]{2})+|[*?[\]{}]/gi, '*');
    const globPattern = this.client.watchesAnyFolder ? { baseUri: uri.slice(0, slash), pattern: name } : `**/${name}`;
    void this.connection.client
      .register(DidChangeWatchedFilesNotification.type, { watchers: [{ globPattern }] })
      .catch(() => undefined);
  }

  /** Asks to be told of changes of the files in the folder of a program, until the returned function is called. */
  private watchFolder(beside: string): () => void {
    if (!this.client.registersFileWatchers) return () => undefined;
    const baseUri = beside.slice(0, beside.lastIndexOf('/'));
    const globPattern = this.client.watchesAnyFolder ? { baseUri, pattern: '*' } : '**/*';
    const registered = this.connection.client
      .register(DidChangeWatchedFilesNotification.type, { watchers: [{ globPattern }] })
      .catch(() => undefined);
    return () => void registered.then((registration) => registration?.dispose()).catch(() => undefined);
  }

  /** Finds out what a program runs under and runs it; who waits for the program waits for the newest of these. Never rejects. */
  configure(program: Program): Promise<void> {
    program.configured = this.findConfiguration(program);
    return program.configured;
  }

  private async findConfiguration(program: Program): Promise<void> {
    const count = ++program.configureCount;
    const [rules, shop] = await Promise.all([
      this.settings.rulesFor(program.uri),
      this.shopFiles.nearest(program.uri).catch(() => undefined),
    ]);
    if (program.isClosed || count !== program.configureCount) return;
    if (shop) this.tellProblems(shop);
    const shops = (shop && configurationOf(shop, program.uri)) ?? DEFAULT_CONFIGURATION;
    const { profile = shops.profile } = this.host;
    program.configure({ ...shops, profile, rules: { ...rules, ...shops.rules } });
    this.runs.start(program);
    if (this.client.fadesUnneeded && !program.isDirty) this.unneeded.lookAgain(program);
  }

  /** The same for all open programs, after settings or a shop's file have changed. */
  async configureAll(): Promise<void> {
    await Promise.all([...this.programs.all()].map((program) => this.configure(program)));
    void this.refreshShown();
    await this.refresh();
  }

  /** Has hints and lenses asked for again that were shown. */
  private async refreshShown(): Promise<void> {
    const { refreshesHints, refreshesLenses } = this.client;
    if (refreshesHints) await this.connection.languages.inlayHint.refresh().catch(() => undefined);
    if (refreshesLenses) await this.connection.sendRequest(CodeLensRefreshRequest.type).catch(() => undefined);
  }

  /** Has findings that were pulled pulled again. */
  private async refresh(): Promise<void> {
    if (!this.client.pullsFindings || !this.client.refreshesFindings) return;
    await this.connection.languages.diagnostics.refresh().catch(() => undefined);
  }

  private runAgain(program: Program, wasTold: boolean): void {
    this.runs.start(program);
    if (!wasTold) return;
    void this.refreshShown();
    void this.refresh();
  }

  /** What is wrong with an open shop's file, without what the client finds by the schema itself. */
  async problemsOf(uri: string): Promise<Diagnostic[]> {
    const shop = await this.shopFiles.opened(uri);
    return shop ? this.problemDiagnostics(shop) : [];
  }

  /** Where the path comes from; who looks is told of changes from then on. */
  readonly lookUpPath: PathLookup = (uri) => {
    this.pathWanted.add(uri);
    const program = this.programs.get(uri);
    if (!program) return undefined;
    this.runs.start(program);
    return { analysis: program.analysis, version: program.runCount, configuration: program.configuration };
  };

  /** Takes back what was pushed for a closed document. */
  closed(uri: string): void {
    if (!this.client.pullsFindings) void this.connection.sendDiagnostics({ uri, diagnostics: [] });
  }

  /** Pushes what is wrong with a shop's file, where the client does not pull it or it is not open. */
  async pushProblems(uri: string): Promise<void> {
    const shop = await this.shopFiles.opened(uri);
    if (shop) this.tellProblems(shop);
  }

  /** Sends what was found to a client that does not pull it. */
  private push(program: Program): void {
    if (this.client.pullsFindings) return;
    const { resultId, items } = this.reports.of(program);
    if (this.pushed.get(program) === resultId) return;
    this.pushed.set(program, resultId);
    void this.connection.sendDiagnostics({ uri: program.uri, version: program.version, diagnostics: items });
  }

  private finished(program: Program): void {
    this.push(program);
    if (this.client.fadesUnneeded) this.unneeded.look(program);
    this.lookAhead.look(program).catch(() => undefined);
    if (this.pathWanted.has(program.uri)) {
      void this.connection.sendNotification(PathChangedNotification, { uri: program.uri, version: program.runCount });
    }
  }

  private tellProblems(shop: ShopFile): void {
    const isPulled = this.client.pullsFindings && this.shopTexts.has(shop.uri);
    const diagnostics = isPulled ? [] : this.problemDiagnostics(shop);
    const told = JSON.stringify(diagnostics);
    if ((this.toldProblems.get(shop.uri) ?? '[]') === told) return;
    this.toldProblems.set(shop.uri, told);
    void this.connection.sendDiagnostics({ uri: shop.uri, diagnostics });
  }

  private problemDiagnostics(shop: ShopFile): Diagnostic[] {
    const isChecked = this.client.checksShopFile && this.shopTexts.has(shop.uri);
    return shop.problems.filter(({ bySchema }) => !(isChecked && bySchema)).map(toProblemDiagnostic);
  }

  private async readFile(uri: string): Promise<string | undefined> {
    const reading = this.host.readFile(uri);
    if (reading) return reading;
    if (!this.client.readsFiles) return undefined;
    const answer = await this.connection.sendRequest(ReadFileRequest, { uri });
    return typeof answer?.text === 'string' ? answer.text : undefined;
  }

  private async listFolder(uri: string): Promise<readonly string[] | undefined> {
    const listing = this.host.listFolder(uri);
    if (listing) return listing;
    if (!this.client.listsFolders) return undefined;
    const answer: unknown = (await this.connection.sendRequest(ListFolderRequest, { uri }))?.files;
    return Array.isArray(answer) ? answer.filter((name) => typeof name === 'string' && !/[/\\]/.test(name)) : undefined;
  }

  private async readStart(uri: string, most: number, within: string | undefined): Promise<FileStart | undefined> {
    const reading = this.host.readStart(uri, most, within ?? uri.slice(0, uri.lastIndexOf('/')));
    if (reading) return reading;
    if (!this.client.listsFolders) return undefined;
    const answer = await this.connection.sendRequest(ReadFileRequest, { uri, most });
    return typeof answer?.text === 'string'
      ? { text: answer.text, size: answer.size ?? answer.text.length }
      : undefined;
  }

  private async showProgress(): Promise<RunProgress | undefined> {
    if (!this.client.showsProgress) return undefined;
    const progress = await this.connection.window.createWorkDoneProgress();
    progress.begin('Checking the program', 0, undefined, true);
    return {
      get isCancelled() {
        return progress.token.isCancellationRequested;
      },
      report: (share) => progress.report(Math.floor(share * 100)),
      done: () => progress.done(),
    };
  }
}

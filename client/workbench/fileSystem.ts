// The folder that `npm start` serves, as a file system of the browser's workbench. Runs in the extension host.
import * as vscode from 'vscode';

interface Entry {
  readonly type: number;
  readonly size: number;
  readonly ctime: number;
  readonly mtime: number;
}

class ServedFolder implements vscode.FileSystemProvider {
  readonly #changed = new vscode.EventEmitter<vscode.FileChangeEvent[]>();
  readonly #base: string;
  readonly #token: string;
  readonly #root: string;
  readonly onDidChangeFile = this.#changed.event;

  constructor(base: string, token: string, root: string) {
    this.#base = base;
    this.#token = token;
    this.#root = root;
  }

  watch(): vscode.Disposable {
    return new vscode.Disposable(() => undefined);
  }

  async stat(uri: vscode.Uri): Promise<vscode.FileStat> {
    return (await this.#ask('stat', uri)).json() as Promise<Entry>;
  }

  async readDirectory(uri: vscode.Uri): Promise<[string, vscode.FileType][]> {
    return (await this.#ask('list', uri)).json() as Promise<[string, vscode.FileType][]>;
  }

  async readFile(uri: vscode.Uri): Promise<Uint8Array> {
    return new Uint8Array(await (await this.#ask('read', uri)).arrayBuffer());
  }

  async writeFile(
    uri: vscode.Uri,
    content: Uint8Array,
    options: { create: boolean; overwrite: boolean },
  ): Promise<void> {
    const how = `&create=${options.create}&overwrite=${options.overwrite}`;
    await this.#ask('write', uri, content, how);
    this.#changed.fire([{ type: vscode.FileChangeType.Changed, uri }]);
  }

  async createDirectory(uri: vscode.Uri): Promise<void> {
    await this.#ask('folder', uri, new Uint8Array());
    this.#changed.fire([{ type: vscode.FileChangeType.Created, uri }]);
  }

  async delete(uri: vscode.Uri, options: { recursive: boolean }): Promise<void> {
    await this.#ask('delete', uri, new Uint8Array(), `&recursive=${options.recursive}`);
    this.#changed.fire([{ type: vscode.FileChangeType.Deleted, uri }]);
  }

  async rename(from: vscode.Uri, to: vscode.Uri, options: { overwrite: boolean }): Promise<void> {
    const how = `&to=${this.#path(to)}&overwrite=${options.overwrite}`;
    await this.#ask('rename', from, new Uint8Array(), how);
    this.#changed.fire([
      { type: vscode.FileChangeType.Deleted, uri: from },
      { type: vscode.FileChangeType.Created, uri: to },
    ]);
  }

  /** The path inside the served folder, which is the only thing there is under this scheme. */
  #path(uri: vscode.Uri): string {
    if (uri.path !== this.#root && !uri.path.startsWith(`${this.#root}/`)) {
      throw vscode.FileSystemError.FileNotFound(uri);
    }
    return encodeURIComponent(uri.path.slice(this.#root.length) || '/');
  }

  async #ask(verb: string, uri: vscode.Uri, body?: Uint8Array, more = ''): Promise<Response> {
    const answer = await fetch(`${this.#base}/mount/${verb}?path=${this.#path(uri)}${more}`, {
      method: body ? 'POST' : 'GET',
      headers: { 'x-blockwright-token': this.#token },
      ...(body ? { body } : {}),
    });
    if (answer.ok) {
      return answer;
    }
    const reason = await answer.text();
    switch (answer.status) {
      case 404:
        throw vscode.FileSystemError.FileNotFound(uri);
      case 409:
        throw vscode.FileSystemError.FileExists(uri);
      case 403:
        throw vscode.FileSystemError.NoPermissions(reason);
      default:
        throw vscode.FileSystemError.Unavailable(reason);
    }
  }
}

/** Registers the served folder under the scheme that the page opens. */
export function activate(context: vscode.ExtensionContext): void {
  const { base, token, scheme, root } = context.extension.packageJSON.served;
  context.subscriptions.push(
    vscode.workspace.registerFileSystemProvider(scheme, new ServedFolder(base, token, root), { isCaseSensitive: true }),
  );
}

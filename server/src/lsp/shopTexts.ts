/** The texts of the shop's files that are open in an editor; small, so the library's document serves. */
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { TextChange } from './params.ts';

/** Open shop's files by address. */
export class ShopTexts {
  private readonly open = new Map<string, TextDocument>();

  /** True if the document is an open shop's file. */
  has(uri: string): boolean {
    return this.open.has(uri);
  }

  /** Addresses of all of them. */
  all(): Iterable<string> {
    return this.open.keys();
  }

  /** Takes an opened document in. */
  add(uri: string, version: number, text: string): void {
    this.open.set(uri, TextDocument.create(uri, 'json', version, text));
  }

  /** Applies changes; the new text. */
  change(uri: string, version: number, changes: readonly TextChange[]): string {
    const document = this.open.get(uri)!;
    const events = changes.map(({ range, text }) => (range ? { range, text } : { text }));
    TextDocument.update(document, events, version);
    return document.getText();
  }

  /** Forgets a closed document. */
  remove(uri: string): void {
    this.open.delete(uri);
  }
}

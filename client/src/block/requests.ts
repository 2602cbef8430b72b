// What the extension asks the server for the form of a block.
import type * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { BlockForm, BlockHere, FormResult } from '../../../server/src/core/features/blockForm.ts';
import type { Place } from './place.ts';

/** A kind of block in a list. */
export interface KindItem {
  readonly name: string;
  readonly title: string;
  readonly summary: string;
}

/** Values that a block is asked for with; `kept` in mm, see the server's protocol. */
export interface AskedValues {
  readonly values: Readonly<Record<string, string>>;
  readonly kept: Readonly<Record<string, string>>;
  readonly isRevised: boolean;
}

/** Asks about one program. */
export class BlockRequests {
  readonly #client: BaseLanguageClient;
  readonly #document: vscode.TextDocument;

  constructor(client: BaseLanguageClient, document: vscode.TextDocument) {
    this.#client = client;
    this.#document = document;
  }

  /** The kinds of blocks; whether a line has no words; the generated block that it stands in. */
  kinds(line: number): Promise<{ kinds: readonly KindItem[]; isFree: boolean; here?: BlockHere }> {
    return this.#ask('blockwright/blocks', { line });
  }

  /** The parameters of a kind. */
  form(name: string, place: Place): Promise<BlockForm> {
    return this.#ask('blockwright/blockForm', { name, ...place });
  }

  /** The block that values make; `version` is that of the text it was made for. */
  block(name: string, place: Place, values: AskedValues): Promise<FormResult & { version: number }> {
    return this.#ask('blockwright/block', { name, ...place, ...values });
  }

  #ask<Answer>(method: string, more: object): Promise<Answer> {
    const textDocument = this.#client.code2ProtocolConverter.asTextDocumentIdentifier(this.#document);
    return this.#client.sendRequest<Answer>(method, { textDocument, ...more });
  }
}

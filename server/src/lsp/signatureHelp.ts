/** The words of the cycle, arc or call that is being typed. */
import { type Connection, type SignatureHelp, SignatureHelpTriggerKind } from 'vscode-languageserver';
import { signatureAt } from '../core/features/signature.ts';
import type { Server } from './server.ts';
import { placeAsked } from './upToDate.ts';

/** Answers which words belong to the code at a place. */
export function listenToSignatureHelp(connection: Connection, server: Server): void {
  connection.onSignatureHelp(async (params, token): Promise<SignatureHelp | null> => {
    const asked = await placeAsked(server, params, token);
    if (!asked) return null;
    const { program, line, column } = asked;
    const { analysis, configuration } = program;
    // What somebody asked for stays while the block is typed on.
    const kind = params.context?.triggerKind ?? SignatureHelpTriggerKind.Invoked;
    const isAsked = kind === SignatureHelpTriggerKind.Invoked || params.context?.isRetrigger === true;
    const found = signatureAt(analysis, configuration, line, column, isAsked);
    if (found === undefined) return null;
    const parameters = found.words.map(({ start, end, meaning }) => ({
      label: server.client.marksPartsOfLabels ? ([start, end] as [number, number]) : found.label.slice(start, end),
      documentation: meaning,
    }));
    return {
      signatures: [{ label: found.label, documentation: found.text, parameters }],
      activeSignature: 0,
      activeParameter: found.active,
    };
  });
}

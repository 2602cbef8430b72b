/** The lens above a generated block that opens the form with its values. */
import type { CodeLens } from 'vscode-languageserver';
import { formOf } from '../core/features/blockActions.ts';
import { nameInside, revisableBlocks } from '../core/features/generatedBlocks.ts';
import { formCommand } from './blockActions.ts';
import type { Program } from './programs.ts';

/** A lens for each generated block of an up-to-date program. */
export function codeLensesOf({ analysis, uri }: Program): CodeLens[] {
  return revisableBlocks(analysis).map((found) => {
    const line = found.block.firstLine;
    return {
      range: { start: { line, character: 0 }, end: { line, character: analysis.lineText(line).length } },
      command: formCommand(`Revise ${nameInside(found.kind)}`, uri, formOf(found)),
    };
  });
}

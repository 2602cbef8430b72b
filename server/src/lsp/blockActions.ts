/** What can be done about blocks at a line, as code actions: with the form for clients that have it, else as edits. */
import { type CodeAction, CodeActionKind, type Command, type Range, TextEdit } from 'vscode-languageserver';
import type { Finding } from '../core/checks/findings.ts';
import { blockActions, quickBlockActions } from '../core/features/blockActions.ts';
import type { BlockAction, FormCall, LinesEdit } from '../core/features/liftCode.ts';
import type { Program } from './programs.ts';

/** The command of the client that opens the form of a block. */
const FORM_COMMAND = 'blockwright.insertBlock';

/** A call of the form. */
export const formCommand = (title: string, uri: string, call: FormCall): Command => ({
  title,
  command: FORM_COMMAND,
  arguments: [{ uri, ...call }],
});

/** An action, without what ties its edits to a version of the text. */
export interface OfferedAction {
  readonly action: CodeAction;
  readonly edits?: TextEdit[];
  readonly repairs?: Finding;
}

/** Who asks: whether the client has the form, and whether somebody wants to see the actions. */
interface Asking {
  readonly hasForm: boolean;
  readonly isAsked: boolean;
}

interface Known extends Asking {
  readonly runCount: number;
  readonly line: number;
  readonly actions: readonly BlockAction[];
}

/** Actions are made by executing blocks: those of the last line are kept. */
const known = new WeakMap<Program, Known>();

/**
 * The actions for the line that a range begins in. `findings` are those in the range. The light bulb asks at every move of the
 * cursor: then only what costs nothing is looked for.
 */
export function blockActionsAt(
  program: Program,
  range: Range,
  findings: readonly Finding[],
  asking: Asking,
): OfferedAction[] {
  return actionsOf(program, range.start.line, asking).map(({ title, repairs, form, edit }) => {
    const finding = findings.find(({ rule }) => rule === repairs);
    const kind = finding === undefined ? CodeActionKind.RefactorRewrite : CodeActionKind.QuickFix;
    return {
      action: { title, kind, ...(form === undefined ? {} : { command: formCommand(title, program.uri, form) }) },
      ...(edit === undefined ? {} : { edits: [toTextEdit(program, edit)] }),
      ...(finding === undefined ? {} : { repairs: finding }),
    };
  });
}

function actionsOf(program: Program, line: number, asking: Asking): readonly BlockAction[] {
  const { runCount, analysis, configuration } = program;
  if (!asking.isAsked) return quickBlockActions(analysis, line, asking.hasForm);
  const before = known.get(program);
  if (before?.runCount === runCount && before.line === line && before.hasForm === asking.hasForm) return before.actions;
  const actions = blockActions(analysis, configuration, line, asking.hasForm);
  known.set(program, { runCount, line, ...asking, actions });
  return actions;
}

function toTextEdit({ analysis, lineEnd }: Program, { lines, replaces, line }: LinesEdit): TextEdit {
  const text = lines.join(lineEnd);
  if (replaces === undefined) return TextEdit.insert({ line: line ?? 0, character: 0 }, `${text}${lineEnd}`);
  const { firstLine, lastLine } = replaces;
  const end = { line: lastLine, character: analysis.lineText(lastLine).length };
  return TextEdit.replace({ start: { line: firstLine, character: 0 }, end }, text);
}

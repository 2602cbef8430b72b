import { Given, LeftOver, Mode } from '../../machine/modes.ts';
import { FactKind, type ProgramFacts } from '../facts.ts';
import { defineRule } from '../support/gradedRule.ts';
import { edit } from '../support/lineFixes.ts';
import { isTold, type StartMode, type UnsetStart, unsetStarts } from '../support/startModes.ts';
import { findCode } from '../support/words.ts';

const NAMES: Readonly<Record<StartMode, string>> = {
  units: 'the unit (G21 or G20)',
  distance: 'G90 or G91',
  plane: 'the plane (G17)',
  offset: 'the work offset (G54)',
};

/** A program that begins to cut in the modes that were left on. */
export const startModesUnset = defineRule({
  code: 'start-modes-unset',
  severity: 'hint',
  silentInSubprograms: true,
  reason: 'Behind another program, or started again after a stop, the same blocks cut another path.',
  messages: {
    unset:
      '{missing} not given before the first cut in line {line}, so the program runs in what was left on. Write a start block here, such as {block}.',
  },
  codes(context) {
    if (findCode(context.block, [920, 100]) >= 0) context.noteLeftOver(LeftOver.zeroGiven);
  },
  firstCut(context) {
    const { modes } = context;
    const isFirst = (modes[Mode.leftOver] & LeftOver.cutMade) === 0;
    const setsZero = (modes[Mode.leftOver] & LeftOver.zeroGiven) !== 0;
    if (!isFirst && (modes[Mode.leftOver] & LeftOver.unitsChanged) === 0) return;
    const text = isFirst ? (setsZero ? 'program zero' : 'program') : '';
    context.addBlockFact(FactKind.firstCut, modes[Mode.given], modes[Mode.units], text);
  },
  program(facts, report) {
    for (const start of unsetStarts(facts)) {
      if (!isTold(start, 'start')) continue;
      const text = facts.lineText(start.head);
      const block = startBlock(facts, start);
      const column = text.length - text.trimStart().length;
      const data = { line: start.cut.line + 1, missing: listed(start.missing.map((mode) => NAMES[mode])), block };
      report('unset', start.head, column, text.trimEnd().length, data, [
        { title: `Write ${block} before it`, safe: false, edits: [edit(`${block}\n`)] },
      ]);
    }
  },
});

/** The words of a safe start block: what is missing, and the cancels, as the machine has it at power-on. */
const startBlock = ({ profile }: ProgramFacts, { missing, cut }: UnsetStart): string => {
  const codes: number[] = [];
  if ((cut.a & Given.plane) === 0) codes.push(profile.start.plane * 10);
  if (missing.includes('units')) codes.push(cut.b * 10);
  codes.push(400, 490);
  if (missing.includes('offset')) codes.push(profile.start.offset);
  codes.push(800);
  if (missing.includes('distance')) codes.push(profile.start.distance * 10);
  return codes
    .filter((code) => !profile.withoutCodes.includes(code))
    .map((code) => `G${code / 10}`)
    .join(' ');
};

/** "G90 or G91 is", "The plane (G17) and the work offset (G54) are". */
const listed = (names: readonly string[]): string => {
  const last = names[names.length - 1];
  const text = names.length < 2 ? `${last} is` : `${names.slice(0, -1).join(', ')} and ${last} are`;
  return text[0].toUpperCase() + text.slice(1);
};

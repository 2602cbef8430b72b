import type { ProgramFacts } from '../facts.ts';
import { cutterOf, type FeedSlip, slipOf } from '../support/feedSlip.ts';
import { mayHaveSlip } from '../support/feedSuspicion.ts';
import { type FeedUse, feedsByTool } from '../support/feedUse.ts';
import { defineRule } from '../support/gradedRule.ts';
import { shortNumber } from '../support/numbers.ts';

/** A feed that reads as if it were in another unit. */
export const feedUnitSuspect = defineRule({
  code: 'feed-unit-suspect',
  severity: 'warning',
  reason: 'A feed in the wrong unit is wrong by 25 or 60 times: the tool rubs, or it breaks.',
  messages: {
    turn: 'F{feed} a minute at S{speed} is no cut; it reads like {feed} {unit} a turn. Write F{meant}, or G95 before it.',
    minute: 'F{feed} under G95 is {feed} {unit} in one turn of the spindle. Write G94 before it if F is per minute.',
    inch: 'F{feed} at S{speed} reads like inches a minute: {because}. Write F{meant} if so.',
    second: 'F{feed} at S{speed} reads like a feed a second: {because}. Write F{meant} if so.',
    metric: 'F{feed} at S{speed} reads like millimetres a minute in an inch program: {because}. Write F{meant} if so.',
  },
  program(facts, report) {
    const rows = new Map(facts.configuration.tools.map((row) => [row.number, row]));
    if (!mayHaveSlip(facts.pool, rows)) return;
    const told = new Set<number>();
    for (const uses of feedsByTool(facts)) {
      for (const use of uses) {
        const cutter = cutterOf(rows.get(use.tool), facts.pool.string(use.remark), use.units === 20);
        const slip = slipOf(use, uses, cutter);
        if (slip === undefined) continue;
        const { line, column, endColumn } = placeOf(facts, use);
        if (told.has(line)) continue;
        told.add(line);
        report(slip.kind, line, column, endColumn, dataOf(use, slip));
      }
    }
  },
});

const dataOf = (use: FeedUse, slip: FeedSlip): Record<string, string> => {
  const mm = use.units === 20 ? 25.4 : 1;
  const unit = use.units === 20 ? 'inches' : 'mm';
  const places = use.units === 20 ? 2 : 1;
  const meant = shortNumber(slip.meant / mm, places);
  const because =
    slip.beside === undefined
      ? `the chip is ${shortNumber((slip.chip ?? 0) / mm, 5)} ${unit} a tooth`
      : `the same tool cuts at F${shortNumber(slip.beside.feed / mm)} in line ${slip.beside.line + 1}`;
  return { feed: shortNumber(use.feed / mm), speed: shortNumber(use.speed), unit, meant, because };
};

/** Most lines back from the first move that its F is looked for. */
const LINES_BACK = 60;

/** The F word in force at the first move of a use, or that move's block. */
const placeOf = (facts: ProgramFacts, use: FeedUse): { line: number; column: number; endColumn: number } => {
  for (let line = use.line; line >= Math.max(0, use.line - LINES_BACK); line--) {
    const words = facts.lineText(line).replace(/\([^)]*\)?/g, (remark) => ' '.repeat(remark.length));
    const word = /F\s*[\d.#[][^A-Z]*/i.exec(words.split(';')[0]);
    if (word === null) continue;
    return { line, column: word.index, endColumn: word.index + word[0].trimEnd().length };
  }
  const text = facts.lineText(use.line);
  return { line: use.line, column: text.length - text.trimStart().length, endColumn: text.trimEnd().length };
};

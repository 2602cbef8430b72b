import { Given, LeftOver, Mode } from '../../machine/modes.ts';
import { FactKind } from '../facts.ts';
import type { RuleContext } from '../rule.ts';
import { defineRule } from '../support/gradedRule.ts';
import { isTold, unsetStarts } from '../support/startModes.ts';
import { findCode } from '../support/words.ts';

/** Codes (G number × 10) that act in the plane although they do not move, and what a message calls them. */
const PLANE_CODES = [
  { codes: [410, 420], what: 'radius compensation' },
  { codes: [680], what: 'rotation' },
  { codes: [160], what: 'polar programming' },
] as const;

/** An arc, a cycle or another word of the plane, and no plane was given before it. */
export const planeUnset = defineRule({
  code: 'plane-unset',
  severity: 'hint',
  silentInSubprograms: true,
  reason: 'In the plane that a program before left on an arc stands upright, and a cycle drills sideways.',
  messages: {
    unset:
      'No plane was given before this {what}, so it lies in the one that is left on. Write G17 (or G18, G19) before it.',
  },
  arc(context) {
    need(context, 'arc');
  },
  cycle(context) {
    need(context, 'cycle');
  },
  codes(context) {
    if (isKnown(context)) return;
    for (const { codes, what } of PLANE_CODES) if (findCode(context.block, codes) >= 0) need(context, what);
  },
  program(facts, report) {
    for (const start of unsetStarts(facts)) {
      const { plane } = start;
      if (plane === undefined || !isTold(start, 'plane')) continue;
      const at = /^\s*(?:\/\d?\s*)?(?:N\s*\d+\s*)?/i.exec(facts.lineText(plane.line))?.[0].length ?? 0;
      const edit = { lineOffset: 0, column: at, endColumn: at, text: 'G17 ' };
      report('unset', plane.line, plane.column, plane.endColumn, { what: plane.text }, [
        { title: 'Write G17 in this block', safe: false, edits: [edit] },
      ]);
    }
  },
});

const isKnown = ({ modes }: RuleContext): boolean =>
  (modes[Mode.given] & Given.plane) !== 0 || (modes[Mode.leftOver] & LeftOver.planeTold) !== 0;

const need = (context: RuleContext, what: string): void => {
  if (isKnown(context)) return;
  context.noteLeftOver(LeftOver.planeTold);
  context.addBlockFact(FactKind.planeNeeded, 0, 0, what);
};

import { Mode } from '../../machine/modes.ts';
import type { ProgramReport } from '../facts.ts';
import { type Fact, FactKind, type ProgramFacts } from '../facts.ts';
import { defineRule } from '../support/gradedRule.ts';
import { findCode } from '../support/words.ts';

/** Cuts under both units in one program. */
export const unitsMixed = defineRule({
  code: 'units-mixed',
  severity: 'warning',
  reason: 'Behind the wrong one every length and feed is wrong by 25.4 times.',
  messages: {
    mixed:
      'From {written} on the program counts in {unit}, and the cuts before it (line {line} the first) ran in {other}. Write the whole program in one unit.',
  },
  codes(context) {
    if (findCode(context.block, [200, 210, 700, 710]) < 0) return;
    context.addBlockFact(FactKind.units, context.modes[Mode.units]);
  },
  program(facts, report) {
    let first: Fact | undefined;
    let told = false;
    for (const cut of facts.of(FactKind.firstCut)) {
      if (first === undefined || cut.text.startsWith('program')) {
        first = cut;
        told = false;
      } else if (!told && cut.b !== first.b) {
        told = true;
        tell(facts, report, first, cut);
      }
    }
  },
});

/** Reports at the code that changed the unit before `cut`, or at the cut. */
const tell = (facts: ProgramFacts, report: ProgramReport, first: Fact, cut: Fact): void => {
  const units = facts.of(FactKind.units).filter(({ line, a }) => line <= cut.line && a === cut.b);
  const place = units.at(-1) ?? cut;
  const code = /G\s*0*(?:20|21|70|71)(?![\d.])/i.exec(facts.lineText(place.line));
  const column = code?.index ?? place.column;
  const endColumn = code === null ? place.endColumn : column + code[0].length;
  report('mixed', place.line, column, endColumn, {
    written: `G${cut.b}`,
    unit: unitName(cut.b),
    other: unitName(first.b),
    line: first.line + 1,
  });
};

const unitName = (code: number): string => (code === 20 ? 'inches' : 'millimetres');

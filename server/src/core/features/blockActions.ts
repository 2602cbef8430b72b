/** What can be done about blocks at a line: revise or regenerate a generated one, lift ordinary code into one, insert one. */
import type { Analysis } from '../checks/analysis.ts';
import type { Configuration } from '../machine/configuration.ts';
import { madeAgain, nameInside, type RevisableBlock, revisableBlockAt } from './generatedBlocks.ts';
import { type BlockAction, type FormCall, type Lift, LiftSource, liftActions, mayLift } from './liftCode.ts';
import { boreInstead, helixLifts } from './liftCodeHelix.ts';
import { holeLifts } from './liftCodeHoles.ts';
import { tapAfterActions } from './liftCodeTapAfter.ts';
import { handTappingLifts, type Spoke } from './liftCodeTapping.ts';

/** Opens the form with a block's values, where the client has it. */
const revision = (found: RevisableBlock, hasForm: boolean): BlockAction[] =>
  hasForm ? [{ title: `Revise this ${nameInside(found.kind)}…`, form: formOf(found) }] : [];

/** The form with the values of a generated block. */
export const formOf = ({ block, edited }: RevisableBlock): FormCall => ({
  name: block.name,
  values: block.raw,
  replaces: { firstLine: block.firstLine, lastLine: block.lastLine },
  edited: edited === 'body' || edited === 'both',
});

const regeneration = (analysis: Analysis, configuration: Configuration, found: RevisableBlock): BlockAction[] => {
  const { firstLine, lastLine } = found.block;
  const { lines } = madeAgain(analysis, configuration, found);
  if (lines === undefined) return [];
  const isSame =
    lines.length === lastLine - firstLine + 1 && lines.every((text, i) => text === analysis.lineText(firstLine + i));
  if (isSame) return [];
  const isByHand = found.edited === 'body' || found.edited === 'both';
  const hint = isByHand ? ' (replaces what was changed by hand)' : '';
  return [
    {
      title: `Regenerate this ${nameInside(found.kind)} from its values${hint}`,
      ...(found.edited === undefined ? {} : { repairs: 'generated-block-edited' }),
      edit: { lines, replaces: { firstLine, lastLine } },
    },
  ];
};

/** The actions for a line of an up-to-date program that cost nothing to find. */
export const quickBlockActions = (analysis: Analysis, line: number, hasForm: boolean): BlockAction[] => {
  const own = hasForm ? revisableBlockAt(analysis, line) : undefined;
  return own === undefined ? [] : revision(own, hasForm);
};

/** All actions for a line of an up-to-date program: those of a generated block, or else what its code can be lifted into. `hasForm`: the client can open one. */
export const blockActions = (
  analysis: Analysis,
  configuration: Configuration,
  line: number,
  hasForm: boolean,
): BlockAction[] => {
  const own = revisableBlockAt(analysis, line);
  if (own !== undefined) return [...revision(own, hasForm), ...regeneration(analysis, configuration, own)];
  if (!mayLift(analysis) || !isLiftable(analysis.lineText(line))) return [];
  const source = new LiftSource(analysis, configuration);
  const lifts = liftsAt(source, line).flatMap((lift) => liftActions(source, lift, hasForm));
  return [...lifts, ...tapAfterActions(source, line, hasForm)];
};

/** What the code at a line can be lifted into. */
const liftsAt = (source: LiftSource, line: number): Lift[] => {
  const { findings } = source.analysis.findings();
  const spoke: Spoke = (rule, { firstLine, lastLine }) =>
    findings.some((finding) => finding.rule === rule && finding.line >= firstLine && finding.line <= lastLine);
  const tooLarge = 'tool-too-large';
  if (spoke(tooLarge, { firstLine: line, lastLine: line })) return boreInstead(source, line, tooLarge);
  return [...holeLifts(source, line, spoke), ...handTappingLifts(source, line, spoke), ...helixLifts(source, line)];
};

/** True for a line with words that move: most lines a cursor comes to need no further look. */
const isLiftable = (text: string): boolean => /[XYZIJR]\s*[-+#[]?\s*[\d.]/i.test(text.replace(/\([^)]*\)?/g, ''));

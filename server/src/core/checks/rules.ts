/** The register of all rules, in the order of the README's table. One file a rule under `rules/`. */
import { airPassLeftOn } from './rules/air-pass-left-on.ts';
import { arcCentreAndRadius } from './rules/arc-centre-and-radius.ts';
import { arcCentreMissing } from './rules/arc-centre-missing.ts';
import { arcCentreOffPlane } from './rules/arc-centre-off-plane.ts';
import { arcClosesUnmeant } from './rules/arc-closes-unmeant.ts';
import { arcDirectionSuspect } from './rules/arc-direction-suspect.ts';
import { arcFullCircleByRadius } from './rules/arc-full-circle-by-radius.ts';
import { arcRadiusIllConditioned } from './rules/arc-radius-ill-conditioned.ts';
import { arcRadiusMismatch } from './rules/arc-radius-mismatch.ts';
import { arcRadiusTooSmall } from './rules/arc-radius-too-small.ts';
import { arcZeroRadius } from './rules/arc-zero-radius.ts';
import { argumentUnused } from './rules/argument-unused.ts';
import { axisWordsClaimedTwice } from './rules/axis-words-claimed-twice.ts';
import { badWord } from './rules/bad-word.ts';
import { blockTooLong } from './rules/block-too-long.ts';
import { callTooDeep } from './rules/call-too-deep.ts';
import { characterSet } from './rules/character-set.ts';
import { chipLoadOutOfRange } from './rules/chip-load-out-of-range.ts';
import { commentUnclosed } from './rules/comment-unclosed.ts';
import { cuttingSpeedOutOfRange } from './rules/cutting-speed-out-of-range.ts';
import { cycleDepthAboveRetract } from './rules/cycle-depth-above-retract.ts';
import { cycleLeftOn } from './rules/cycle-left-on.ts';
import { cycleWordMissing } from './rules/cycle-word-missing.ts';
import { decimalPointMissing } from './rules/decimal-point-missing.ts';
import { depthOverFlute } from './rules/depth-over-flute.ts';
import { dwellUnit } from './rules/dwell-unit.ts';
import { endlessLoop } from './rules/endless-loop.ts';
import { expressionDomain } from './rules/expression-domain.ts';
import { feedCarriedOver } from './rules/feed-carried-over.ts';
import { feedMissing } from './rules/feed-missing.ts';
import { feedModeLeftOn } from './rules/feed-mode-left-on.ts';
import { feedOverMachine } from './rules/feed-over-machine.ts';
import { feedOverrideUnlocked } from './rules/feed-override-unlocked.ts';
import { feedUnitSuspect } from './rules/feed-unit-suspect.ts';
import { feedZero } from './rules/feed-zero.ts';
import { generatedBlockEdited } from './rules/generated-block-edited.ts';
import { generatedBlockStale } from './rules/generated-block-stale.ts';
import { helixTooSteep } from './rules/helix-too-steep.ts';
import { holderBelowStock } from './rules/holder-below-stock.ts';
import { homeThroughWork } from './rules/home-through-work.ts';
import { incrementalLeftOn } from './rules/incremental-left-on.ts';
import { jumpIntoLoop } from './rules/jump-into-loop.ts';
import { jumpTargetMissing } from './rules/jump-target-missing.ts';
import { jumpTargetTwice } from './rules/jump-target-twice.ts';
import { lengthCancelMoves } from './rules/length-cancel-moves.ts';
import { lengthOffsetMissing } from './rules/length-offset-missing.ts';
import { lengthOffsetOtherTool } from './rules/length-offset-other-tool.ts';
import { letterForDigit } from './rules/letter-for-digit.ts';
import { loopUnclosed } from './rules/loop-unclosed.ts';
import { markerBroken } from './rules/marker-broken.ts';
import { modalConflict } from './rules/modal-conflict.ts';
import { motionModeMissing } from './rules/motion-mode-missing.ts';
import { noRetract } from './rules/no-retract.ts';
import { notExecuted } from './rules/not-executed.ts';
import { offsetMissing } from './rules/offset-missing.ts';
import { parameterUnset } from './rules/parameter-unset.ts';
import { peckOverDepth } from './rules/peck-over-depth.ts';
import { planeLeftChanged } from './rules/plane-left-changed.ts';
import { planeUnset } from './rules/plane-unset.ts';
import { plungeWithoutCentreCut } from './rules/plunge-without-centre-cut.ts';
import { programEndMissing } from './rules/program-end-missing.ts';
import { radiusCompEntry } from './rules/radius-comp-entry.ts';
import { radiusCompGouge } from './rules/radius-comp-gouge.ts';
import { radiusCompLeftOn } from './rules/radius-comp-left-on.ts';
import { radiusOffsetMissing } from './rules/radius-offset-missing.ts';
import { rapidBelowStockTop } from './rules/rapid-below-stock-top.ts';
import { rapidIntoStock } from './rules/rapid-into-stock.ts';
import { rapidPlungeDiagonal } from './rules/rapid-plunge-diagonal.ts';
import { sequenceNumberRepeated } from './rules/sequence-number-repeated.ts';
import { shiftLeftOn } from './rules/shift-left-on.ts';
import { singlePointLead } from './rules/single-point-lead.ts';
import { slipOfSignOrDecade } from './rules/slip-of-sign-or-decade.ts';
import { speedCarriedOver } from './rules/speed-carried-over.ts';
import { speedMissing } from './rules/speed-missing.ts';
import { speedOverMachine } from './rules/speed-over-machine.ts';
import { spindleDirectionForTool } from './rules/spindle-direction-for-tool.ts';
import { spindleForCycle } from './rules/spindle-for-cycle.ts';
import { spindleStoppedInCut } from './rules/spindle-stopped-in-cut.ts';
import { startModesUnset } from './rules/start-modes-unset.ts';
import { subprogramMissing } from './rules/subprogram-missing.ts';
import { subprogramNoReturn } from './rules/subprogram-no-return.ts';
import { tapCycleWrongForHolder } from './rules/tap-cycle-wrong-for-holder.ts';
import { tapDeeperThanHole } from './rules/tap-deeper-than-hole.ts';
import { tapDrillSize } from './rules/tap-drill-size.ts';
import { tapDwellAtBottom } from './rules/tap-dwell-at-bottom.ts';
import { tapFeedMismatch } from './rules/tap-feed-mismatch.ts';
import { tapInDrillingCycle } from './rules/tap-in-drilling-cycle.ts';
import { tapRetractTooFast } from './rules/tap-retract-too-fast.ts';
import { tapRetractTooShort } from './rules/tap-retract-too-short.ts';
import { tapRetractTooSlow } from './rules/tap-retract-too-slow.ts';
import { tapSpeedHigh } from './rules/tap-speed-high.ts';
import { tapSpindleDirection } from './rules/tap-spindle-direction.ts';
import { tapTorqueOverLimit } from './rules/tap-torque-over-limit.ts';
import { tapWithoutHole } from './rules/tap-without-hole.ts';
import { tapeMarkUnpaired } from './rules/tape-mark-unpaired.ts';
import { textAfterEnd } from './rules/text-after-end.ts';
import { throughStockBottom } from './rules/through-stock-bottom.ts';
import { toolChangeInComp } from './rules/tool-change-in-comp.ts';
import { toolChangeWithoutTool } from './rules/tool-change-without-tool.ts';
import { toolTooLarge } from './rules/tool-too-large.ts';
import { toolUnknown } from './rules/tool-unknown.ts';
import { travelExceeded } from './rules/travel-exceeded.ts';
import { unitsMixed } from './rules/units-mixed.ts';
import { unitsUnset } from './rules/units-unset.ts';
import { unknownCode } from './rules/unknown-code.ts';
import { wordRepeated } from './rules/word-repeated.ts';
import type { GradedRule } from './support/gradedRule.ts';

/** All rules. */
export const RULES: readonly GradedRule[] = [
  badWord,
  commentUnclosed,
  wordRepeated,
  modalConflict,
  axisWordsClaimedTwice,
  unknownCode,
  sequenceNumberRepeated,
  programEndMissing,
  textAfterEnd,
  tapeMarkUnpaired,
  blockTooLong,
  characterSet,
  decimalPointMissing,
  letterForDigit,
  toolChangeWithoutTool,
  motionModeMissing,
  feedMissing,
  feedZero,
  speedMissing,
  feedCarriedOver,
  speedCarriedOver,
  spindleStoppedInCut,
  unitsUnset,
  unitsMixed,
  planeUnset,
  startModesUnset,
  incrementalLeftOn,
  planeLeftChanged,
  shiftLeftOn,
  feedModeLeftOn,
  offsetMissing,
  feedUnitSuspect,
  slipOfSignOrDecade,
  arcCentreOffPlane,
  arcCentreMissing,
  arcRadiusMismatch,
  arcRadiusTooSmall,
  arcFullCircleByRadius,
  arcCentreAndRadius,
  arcRadiusIllConditioned,
  arcClosesUnmeant,
  arcZeroRadius,
  arcDirectionSuspect,
  helixTooSteep,
  cycleWordMissing,
  cycleDepthAboveRetract,
  cycleLeftOn,
  peckOverDepth,
  dwellUnit,
  spindleForCycle,
  tapFeedMismatch,
  tapInDrillingCycle,
  tapCycleWrongForHolder,
  tapRetractTooSlow,
  tapRetractTooFast,
  tapRetractTooShort,
  tapDwellAtBottom,
  tapSpindleDirection,
  tapDeeperThanHole,
  tapWithoutHole,
  tapDrillSize,
  tapSpeedHigh,
  feedOverrideUnlocked,
  tapTorqueOverLimit,
  singlePointLead,
  lengthOffsetMissing,
  lengthOffsetOtherTool,
  lengthCancelMoves,
  toolUnknown,
  spindleDirectionForTool,
  speedOverMachine,
  feedOverMachine,
  cuttingSpeedOutOfRange,
  chipLoadOutOfRange,
  toolTooLarge,
  depthOverFlute,
  plungeWithoutCentreCut,
  homeThroughWork,
  noRetract,
  travelExceeded,
  rapidIntoStock,
  rapidBelowStockTop,
  throughStockBottom,
  rapidPlungeDiagonal,
  holderBelowStock,
  airPassLeftOn,
  radiusOffsetMissing,
  radiusCompEntry,
  radiusCompLeftOn,
  radiusCompGouge,
  toolChangeInComp,
  jumpTargetMissing,
  jumpTargetTwice,
  jumpIntoLoop,
  subprogramMissing,
  subprogramNoReturn,
  loopUnclosed,
  endlessLoop,
  parameterUnset,
  expressionDomain,
  argumentUnused,
  callTooDeep,
  generatedBlockEdited,
  generatedBlockStale,
  markerBroken,
  notExecuted,
];

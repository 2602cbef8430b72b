/** How much deeper than its axis a tap goes in a holder that gives. */
import type { ProgramFacts } from '../facts.ts';
import { feedOfPass } from './tapWords.ts';
import type { TapStroke } from './threadWork.ts';

/**
 * Way of a tap's tip below the level that is written, mm: the self-feed travel of a self-reversing head; in a holder with
 * axial float (S·P − F)/(S·P)·depth and what the spindle runs on. 0 where the holder is synchronised or not known, and for
 * every length that nobody gives. Source: the design's rules page.
 */
export const holderOverrun = (facts: ProgramFacts, stroke: TapStroke): number => {
  const { tap, in: pass } = stroke;
  const { holder, thread } = tap ?? {};
  if (holder?.kind === 'reversing') return holder.selfFeed ?? 0;
  if (holder?.kind !== 'float' || thread === undefined) return 0;
  const feed = feedOfPass(facts, stroke, pass);
  if (feed === undefined) return 0;
  const { pitch } = thread;
  const short = feed.depth > 0 ? Math.max(0, (pitch - feed.perTurn - feed.roundingPerTurn) / pitch) * feed.depth : 0;
  return short + feed.runOn * pitch;
};

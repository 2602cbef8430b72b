/** Uses of what the cursor stands on, to be marked in the editor: where it is set, and where it is used. */
import type { Analysis } from '../checks/analysis.ts';
import type { Configuration } from '../machine/configuration.ts';
import { subjectAt } from './definitionSubject.ts';
import { modeOfWord, type OriginMode } from './modeOriginFinders.ts';
import { referencesAt } from './references.ts';
import type { NamedPlace } from './referencesNames.ts';

/** More than these are not marked: nobody sees them all at once, and it happens with every step of the cursor. */
const MOST = 1000;

/** Modes whose moves are marked; of others, such as G90 in the first block, the whole program would be. */
const MARKED: ReadonlySet<OriginMode | undefined> = new Set<OriginMode>(['feed', 'speed', 'tool', 'offset']);

/** What is marked; undefined where the editor is to mark what it likes. The analysis must be up to date. */
export function* highlightsAt(
  analysis: Analysis,
  configuration: Configuration,
  line: number,
  column: number,
): Generator<undefined, readonly NamedPlace[] | undefined> {
  const place = subjectAt(analysis, configuration.profile, line, column);
  if (place === undefined) return undefined;
  const { subject, block } = place;
  if (subject.kind === 'word' && !MARKED.has(modeOfWord(block, subject.word, configuration.profile))) return undefined;
  const found = yield* referencesAt(analysis, configuration, line, column, MOST);
  return found === undefined || found.places.length === 0 ? undefined : found.places;
}

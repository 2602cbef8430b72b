/** What a variable holds, or is set to, where a block names it. */
import { systemVariable } from '../machine/systemVariables.ts';
import type { VariableName } from '../syntax/variables.ts';
import { definitionAt } from './definition.ts';
import { placeOf } from './hoverModes.ts';
import { type HoverPlace, shortNumber, type WordText } from './hoverPlace.ts';
import { textOf, variableTokens } from './referencesTokens.ts';

/** Explains the variable at a column; undefined where there is none, or where it stands in a remark. */
export function variableSentence(place: HoverPlace, column: number): WordText | undefined {
  if (!place.isReached) return undefined;
  const token = variableTokens(place.block).find(
    (candidate) => column >= candidate.column && column < candidate.endColumn,
  );
  if (token?.name === undefined) return undefined;
  const range = [token.column, token.endColumn] as const;
  const title = textOf(place.block).slice(...range);
  return { title, range, text: token.isSet ? setTo(place, token.name) : held(place, token.name, column) };
}

function setTo(place: HoverPlace, name: VariableName): string {
  const meaning = meaningOf(place, name);
  if (meaning !== undefined) return meaning;
  const before = place.before.variables.get(name);
  return `is set to ${worded(place.after.variables.get(name))}${before === undefined ? '' : `; held ${worded(before)} before`}`;
}

/** What a variable holds before the block; the control's own with what they are. */
function held(place: HoverPlace, name: VariableName, column: number): string {
  if (name === 0) return 'is always empty';
  const meaning = meaningOf(place, name);
  const value = place.variableBefore(name);
  if (meaning === undefined) return `holds ${worded(value)}${setIn(place, column)}`;
  return value === undefined || Number.isNaN(value) ? meaning : `${meaning}: ${shortNumber(value, 6)}`;
}

/** Where a variable was set last, as the run came here first. */
function setIn(place: HoverPlace, column: number): string {
  const [origin] = definitionAt(place.analysis, place.configuration, place.line, column)?.places ?? [];
  return origin === undefined ? '' : `, set in ${placeOf(place, origin)}`;
}

const meaningOf = ({ configuration }: HoverPlace, name: VariableName): string | undefined =>
  typeof name === 'string' ? undefined : systemVariable(name, configuration.profile.systemVariables)?.meaning;

function worded(value: number | undefined): string {
  if (value === undefined) return 'nothing';
  return Number.isNaN(value) ? 'a value that is not known here' : shortNumber(value, 6);
}

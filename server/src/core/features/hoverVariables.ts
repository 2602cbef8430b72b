/** What a variable holds, or is set to, where a block names it outside its words. */
import { systemVariable } from '../machine/systemVariables.ts';
import type { VariableName } from '../syntax/variables.ts';
import { definitionAt } from './definition.ts';
import { placeOf } from './hoverModes.ts';
import { type HoverPlace, shortNumber, type WordText } from './hoverPlace.ts';

/** A number or a name behind `#`, and the sign of an assignment behind it. */
const VARIABLE = /#(?:\s*(\d+)|<([^>]*)>)(\s*=)?/g;

/** Explains the variable at a column; undefined where there is none, or where it stands in a remark. */
export function variableSentence(place: HoverPlace, column: number): WordText | undefined {
  const { block } = place;
  if (!place.isReached || (!block.assigns && block.flow === undefined)) return undefined;
  const text = block.source.slice(block.start, block.end);
  for (const match of text.matchAll(VARIABLE)) {
    const written = match[0].replace(/\s*=$/, '');
    const range = [match.index, match.index + written.length] as const;
    if (column < range[0] || column > range[1] || isInRemark(place, range[0])) continue;
    const name = match[1] === undefined ? match[2].toLowerCase().replace(/\s+/g, '') : Number(match[1]);
    const words = match[3] === undefined ? held(place, name, column) : setTo(place, name);
    return { title: written, range, text: words };
  }
  return undefined;
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

function isInRemark({ block }: HoverPlace, column: number): boolean {
  const offset = block.start + column;
  for (let i = 0; i < block.remarks.length; i += 2) {
    if (offset >= block.remarks[i] && offset < block.remarks[i + 1]) return true;
  }
  return false;
}

/** What a variable holds, or is set to, where a block names it outside its words. */
import type { VariableName } from '../syntax/variables.ts';
import { type HoverPlace, shortNumber, type WordText } from './hoverPlace.ts';

/** A number or a name behind `#`, and the sign of an assignment behind it. */
const VARIABLE = /#(?:\s*(\d+)|<([^>]*)>)(\s*=)?/g;

/** Explains the variable at a column; undefined where there is none, or where it stands in a remark. */
export function variableSentence(place: HoverPlace, column: number): WordText | undefined {
  const { block } = place;
  if (!block.assigns && block.flow === undefined) return undefined;
  const text = block.source.slice(block.start, block.end);
  for (const match of text.matchAll(VARIABLE)) {
    const written = match[0].replace(/\s*=$/, '');
    const range = [match.index, match.index + written.length] as const;
    if (column < range[0] || column > range[1] || isInRemark(place, range[0])) continue;
    const name = match[1] === undefined ? match[2].toLowerCase().replace(/\s+/g, '') : Number(match[1]);
    const words = match[3] === undefined ? `holds ${held(place.before.variables, name)}` : setTo(place, name);
    return { title: written, range, text: words };
  }
  return undefined;
}

const setTo = (place: HoverPlace, name: VariableName): string => `is set to ${held(place.after.variables, name)}`;

function held(variables: ReadonlyMap<VariableName, number>, name: VariableName): string {
  const value = variables.get(name);
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

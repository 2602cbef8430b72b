/** What a remark names: a thread with its pitch and drill, the tool that checks take from it. */
import { tapDrillOf } from '../reference/tapDrills.ts';
import { LONGEST_REMARK, locateThread, plainCapitals, type Thread } from '../reference/threadName.ts';
import { readToolRemark, type ToolFromRemark } from '../reference/toolRemark.ts';
import { type HoverPlace, shortNumber, type WordText } from './hoverPlace.ts';

/** Explains the thread or the tool at a column of a remark; undefined elsewhere. */
export function remarkSentence(place: HoverPlace, column: number): WordText | undefined {
  const { block } = place;
  const offset = block.start + column;
  for (let i = 0; i < block.remarks.length; i += 2) {
    const [start, end] = [block.remarks[i], block.remarks[i + 1]];
    if (offset < start || offset > end || end - start > LONGEST_REMARK) continue;
    const text = block.source.slice(start, end);
    return threadIn(place, text, start - block.start, column) ?? toolIn(place, text, start - block.start);
  }
  return undefined;
}

const threadIn = (place: HoverPlace, text: string, from: number, column: number): WordText | undefined => {
  const tool = readToolRemark(text, place.unit !== 1);
  const found = locateThread(plainCapitals(text), tool?.thread !== undefined);
  if (found === undefined || column < from + found.start || column > from + found.end) return undefined;
  const { thread } = found;
  const range = [from + found.start, from + found.end] as const;
  return { title: text.slice(found.start, found.end), range, text: threadText(place, tool?.thread ?? thread, tool) };
};

/** `thread M8X1.25: pitch 1.25 mm, tap drill 6.8 mm`. */
const threadText = (place: HoverPlace, thread: Thread, tool: ToolFromRemark | undefined): string => {
  const drill = tool?.forInsert ? undefined : tapDrillOf(thread, tool?.forming);
  const forming = tool?.forming ? ' for a forming tap' : '';
  const name = drill?.name === undefined ? '' : `${drill.name}, `;
  const parts = [
    `pitch ${both(place, thread.pitch)}`,
    drill && Number.isFinite(drill.diameter) ? `tap drill${forming} ${name}${both(place, drill.diameter)}` : '',
    (tool?.hand ?? thread.hand) === 'left' ? 'left hand' : '',
    tool?.forInsert ? 'for a wire insert: its hole is larger than the thread’s own' : '',
  ];
  return `thread ${thread.name}: ${parts.filter((part) => part !== '').join(', ')}`;
};

/** A length in the program's unit; a drill of the trade keeps three decimals of a millimetre. */
const both = (place: HoverPlace, millimetres: number): string =>
  `${shortNumber(millimetres / place.unit, place.unit === 1 ? 3 : 4)} ${place.unitName}`;

/** The tool that the checks take from a remark at a tool change. */
const toolIn = (place: HoverPlace, text: string, from: number): WordText | undefined => {
  const tool = place.hasM(6) ? readToolRemark(text, place.unit !== 1) : undefined;
  if (tool === undefined || tool.kind === 'other') return undefined;
  const parts = [
    tool.diameter === undefined ? '' : `diameter ${both(place, tool.diameter)}`,
    tool.teeth === undefined ? '' : `${tool.teeth} teeth`,
    tool.pointAngle === undefined ? '' : `point ${shortNumber(tool.pointAngle, 1)}°`,
    tool.hand === 'left' ? 'left hand' : '',
  ].filter((part) => part !== '');
  const known = parts.length === 0 ? '' : `: ${parts.join(', ')}`;
  return {
    title: text.trim(),
    range: [from, from + text.length],
    text: `taken for ${withArticle(tool.kind.replaceAll('-', ' '))} by the checks${known}`,
  };
};

const withArticle = (name: string): string => `${/^[aeiou]/.test(name) ? 'an' : 'a'} ${name}`;

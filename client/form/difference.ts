// What becomes of lines: which stay, which go, which come.

/** A line of both texts: as it stays (' '), goes ('−') or comes ('+'). */
export interface DifferenceLine {
  readonly sign: ' ' | '−' | '+';
  readonly text: string;
}

/** Unchanged lines that are shown before and behind a change. */
const BESIDE = 2;

/** The same with the long rows of lines that stay left out: '…' says how many. */
export function changesOf(
  lines: readonly DifferenceLine[],
): readonly (DifferenceLine | { readonly sign: '…'; readonly text: string })[] {
  const isNear = (at: number): boolean =>
    lines.slice(Math.max(0, at - BESIDE), at + BESIDE + 1).some(({ sign }) => sign !== ' ');
  const kept: (DifferenceLine | { readonly sign: '…'; readonly text: string })[] = [];
  let away = 0;
  for (let at = 0; at <= lines.length; at++) {
    if (at < lines.length && !isNear(at)) {
      away++;
      continue;
    }
    if (away > 0) {
      kept.push({ sign: '…', text: `… ${away === 1 ? '1 line stays' : `${away} lines stay`} …` });
    }
    away = 0;
    if (at < lines.length) {
      kept.push(lines[at]);
    }
  }
  return kept;
}

/** Longer middles are told as all gone and all come: nobody reads them line by line. */
const MOST_COMPARED = 1500;

/** The lines of `before` and `after` in one list; lines that are in both stay in order, as many as can be. */
export function difference(before: readonly string[], after: readonly string[]): DifferenceLine[] {
  let head = 0;
  while (head < before.length && head < after.length && before[head] === after[head]) head++;
  let tail = 0;
  const room = Math.min(before.length, after.length) - head;
  while (tail < room && before[before.length - 1 - tail] === after[after.length - 1 - tail]) tail++;
  const old = before.slice(head, before.length - tail);
  const now = after.slice(head, after.length - tail);
  return [...before.slice(0, head).map(stays), ...middle(old, now), ...before.slice(before.length - tail).map(stays)];
}

const stays = (text: string): DifferenceLine => ({ sign: ' ', text });
const goes = (text: string): DifferenceLine => ({ sign: '−', text });
const comes = (text: string): DifferenceLine => ({ sign: '+', text });

/** By the longest common row of lines (the textbook's table of lengths). */
function middle(before: readonly string[], after: readonly string[]): DifferenceLine[] {
  if (before.length > MOST_COMPARED || after.length > MOST_COMPARED) {
    return [...before.map(goes), ...after.map(comes)];
  }
  const width = after.length + 1;
  const lengths = new Uint16Array((before.length + 1) * width);
  for (let i = before.length - 1; i >= 0; i--) {
    for (let j = after.length - 1; j >= 0; j--) {
      lengths[i * width + j] =
        before[i] === after[j]
          ? lengths[(i + 1) * width + j + 1] + 1
          : Math.max(lengths[(i + 1) * width + j], lengths[i * width + j + 1]);
    }
  }
  const lines: DifferenceLine[] = [];
  let [i, j] = [0, 0];
  while (i < before.length || j < after.length) {
    if (i < before.length && j < after.length && before[i] === after[j]) {
      lines.push(stays(before[i++]));
      j++;
    } else if (j >= after.length || (i < before.length && lengths[(i + 1) * width + j] >= lengths[i * width + j + 1])) {
      lines.push(goes(before[i++]));
    } else {
      lines.push(comes(after[j++]));
    }
  }
  return lines;
}

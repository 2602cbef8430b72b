/** Over stdio: opening, keystrokes, and the same with a thousand findings standing. */
import { TextDocument } from 'vscode-languageserver-textdocument';
import { floorOf, median, quantile, row } from './measure.ts';
import { finishingProgram, seeded } from './program.ts';
import { type Session, start, stop } from './session.ts';

const URI = 'file:///bench/finishing.nc';

let resultId: string | undefined;

const pull = async ({ connection }: Session): Promise<number> => {
  const report = await connection.sendRequest<{ items?: unknown[]; resultId?: string }>('textDocument/diagnostic', {
    textDocument: { uri: URI },
    previousResultId: resultId,
  });
  resultId = report.resultId;
  return report.items?.length ?? -1;
};

const open = async (session: Session, text: string): Promise<number> => {
  resultId = undefined;
  const begin = performance.now();
  await session.connection.sendNotification('textDocument/didOpen', {
    textDocument: { uri: URI, languageId: 'cnc-program', version: 1, text },
  });
  await pull(session);
  return performance.now() - begin;
};

let version = 1;

const type = async (session: Session, line: number, column: number, end: number, text: string): Promise<number> => {
  const begin = performance.now();
  await session.connection.sendNotification('textDocument/didChange', {
    textDocument: { uri: URI, version: ++version },
    contentChanges: [{ range: { start: { line, character: column }, end: { line, character: end } }, text }],
  });
  await pull(session);
  return performance.now() - begin;
};

/** Times of `count` edits of a figure of an X word, each at another place. */
const keystrokes = async (session: Session, text: string, count: number): Promise<number[]> => {
  const lines = text.split('\n');
  const random = seeded(7);
  const times: number[] = [];
  while (times.length < count) {
    const line = 20 + Math.floor(random() * (lines.length - 40));
    const match = /^X-?\d/.exec(lines[line]);
    if (match === null) continue;
    const at = match[0].length;
    times.push(await type(session, line, at - 1, at, String(Math.floor(random() * 10))));
  }
  return times.slice(20);
};

/** Median of one update of the library's text document and the reading of one line, ms. */
const libraryUpdate = (text: string): number => {
  let document = TextDocument.create(URI, 'cnc-program', 1, text);
  const random = seeded(9);
  const times: number[] = [];
  for (let i = 0; i < 60; i++) {
    const line = Math.floor(random() * 900_000);
    const begin = performance.now();
    document = TextDocument.update(
      document,
      [{ range: { start: { line, character: 1 }, end: { line, character: 2 } }, text: '5' }],
      i + 2,
    );
    document.getText({ start: { line, character: 0 }, end: { line: line + 1, character: 0 } });
    times.push(performance.now() - begin);
  }
  return median(times);
};

const main = async (): Promise<void> => {
  const million = finishingProgram(1_000_000);
  const floor = floorOf(million);
  const library = libraryUpdate(million);
  process.stdout.write(`F = ${floor.toFixed(1)} ms over stdio\n`);
  const cold: number[] = [];
  for (let i = 0; i < 5; i++) {
    const session = await start();
    cold.push(await open(session, million));
    await stop(session);
  }
  row('open over stdio → first findings, cold', `${(median(cold) / floor).toFixed(1)} F`, '≤ 12 F (reach 8)');
  const session = await start();
  await open(session, million);
  const local = await keystrokes(session, million, 520);
  const share = (value: number): string => `1/${(library / value).toFixed(0)}`;
  row(
    `a keystroke → findings over stdio, p50 / p95, against the library's update (${(library / floor).toFixed(2)} F)`,
    `${share(median(local))} / ${share(quantile(local, 0.95))} (${median(local).toFixed(2)} / ${quantile(local, 0.95).toFixed(2)} ms)`,
    '≤ 1/10 / 1/4 (reach 1/40 / 1/20)',
  );
  await stop(session);
  await withFindings(million, floor);
  const large = await start();
  const two = finishingProgram(2_000_000);
  await open(large, two);
  const twice = await keystrokes(large, two, 520);
  row('the same edit at 2 M lines against 1 M, p50', `${(median(twice) / median(local)).toFixed(2)} ×`, '≤ 1.3 ×');
  await stop(large);
};

const withFindings = async (text: string, floor: number): Promise<void> => {
  const lines = text.split('\n');
  for (let i = 0; i < 1000; i++) lines[900 * i + 40] = `G777 ${lines[900 * i + 40]}`;
  const faulty = lines.join('\n');
  const session = await start();
  await open(session, faulty);
  const times = await keystrokes(session, faulty, 520);
  row(
    'the same with 1,000 findings standing, p95',
    `${(quantile(times, 0.95) / floor).toFixed(3)} F`,
    '≤ 0.15 F (reach 0.08)',
  );
  await stop(session);
};

void main();

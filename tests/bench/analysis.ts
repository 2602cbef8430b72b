/** In the process: whole analysis, worst edit, memory, and a general tool on a text of the same size. */
import { getLanguageService, TextDocument } from 'vscode-json-languageservice';
import { Analysis } from '../../server/src/core/checks/analysis.ts';
import { type Configuration, DEFAULT_CONFIGURATION } from '../../server/src/core/machine/configuration.ts';
import { collect, floorOf, median, row, timed } from './measure.ts';
import { finishingProgram, HOLES, tappedProgram } from './program.ts';
import { shop } from './shop.ts';

const analyse = (text: string, configuration: Configuration = DEFAULT_CONFIGURATION): Analysis => {
  const analysis = new Analysis(text, configuration);
  analysis.run();
  analysis.findings();
  return analysis;
};

/** The same without what waits until nothing else is to do (the height map of the blank), which no keystroke waits for. */
const analyseAtOnce = (text: string, configuration: Configuration): Analysis => {
  const analysis = new Analysis(text, configuration);
  analysis.runSlice(Number.POSITIVE_INFINITY);
  analysis.findings();
  return analysis;
};

/** Milliseconds of a whole analysis, warm, and F around it. */
const whole = (text: string, runs: number, work: (text: string) => Analysis = analyse) => {
  for (let i = 0; i < 12; i++) work(text);
  const before = floorOf(text);
  const times = Array.from({ length: runs }, () => timed(() => work(text)));
  return { milliseconds: median(times), floor: (before + floorOf(text)) / 2 };
};

/** Bytes that an analysis keeps beside the text. Garbage of typed arrays goes late: collected until nothing changes. */
const memoryOf = async (text: string): Promise<number> => {
  const used = async (): Promise<number> => {
    for (let i = 0; i < 5; i++) {
      collect();
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
    return process.memoryUsage().heapUsed + process.memoryUsage().arrayBuffers;
  };
  const before = await used();
  const analysis = analyse(text);
  const bytes = (await used()) - before;
  return analysis.lineCount > 0 ? bytes : 0;
};

const worstEdit = (text: string): number => {
  const analysis = analyse(text);
  const column = analysis.lineText(2).indexOf('G90');
  const times = Array.from({ length: 6 }, (_, i) => {
    analysis.edit(2, column, 2, column + 3, i % 2 === 0 ? 'G91' : 'G90');
    return timed(() => {
      analysis.run();
      analysis.findings();
    });
  });
  return median(times);
};

/** The same program as JSON, a block an object of its words, cut to the same size. */
const jsonOfProgram = (program: string): string => {
  const items: string[] = [];
  let length = 2;
  for (const line of program.split('\n')) {
    if (length >= program.length) break;
    const words = [...line.matchAll(/([A-Z])(-?[\d.]+)/g)].map(([, letter, value]) => `"${letter}": ${Number(value)}`);
    const item = `{ ${words.join(', ')} }`;
    items.push(item);
    length += item.length + 2;
  }
  return `[${items.join(',\n')}]`;
};

const jsonService = async (program: string): Promise<{ milliseconds: number; floor: number }> => {
  const text = jsonOfProgram(program);
  const service = getLanguageService({});
  const times: number[] = [];
  for (let i = 0; i < 7; i++) {
    const start = performance.now();
    const document = TextDocument.create('file:///a.json', 'json', 1, text);
    await service.doValidation(document, service.parseJSONDocument(document));
    times.push(performance.now() - start);
  }
  return { milliseconds: median(times), floor: floorOf(text) };
};

/** With everything given that a rule may need, and threads in the program: all rules are at work. */
const withShop = (): void => {
  const text = tappedProgram(1_000_000);
  const { milliseconds, floor } = whole(text, 9, (program) => analyseAtOnce(program, shop));
  const { findings } = analyseAtOnce(text, shop).findings();
  row(
    `the same with tools, ${HOLES} tapped holes, blank and material given (${findings.length} findings)`,
    `${(milliseconds / floor).toFixed(1)} F`,
    '≤ 6 F',
  );
};

/** Milliseconds of an edit and the findings behind it, in a program of so many tapped holes: one of them is moved. */
const editAmongHoles = (holes: number): number => {
  const analysis = analyseAtOnce(tappedProgram(holes * 3 + 20_000, holes), shop);
  const tapped = analysis.lineCount - Math.round(holes / 4);
  const drilled = analysis.lineCount - Math.round(holes * 1.5);
  const times = Array.from({ length: 40 }, (_, edit) => {
    const line = (edit % 2 === 0 ? tapped : drilled) + edit;
    const text = analysis.lineText(line);
    analysis.edit(
      line,
      0,
      line,
      text.length,
      text.replace(/Y(\d+)/, (_word, y) => `Y${Number(y) + 1}`),
    );
    return timed(() => {
      analysis.runSlice(Number.POSITIVE_INFINITY);
      analysis.findings();
    });
  });
  return median(times);
};

const main = async (): Promise<void> => {
  const million = finishingProgram(1_000_000);
  const one = whole(million, 9);
  const ratio = one.milliseconds / one.floor;
  process.stdout.write(`F = ${one.floor.toFixed(1)} ms over ${(million.length / 1e6).toFixed(1)} MB\n`);
  row('whole analysis, warm, rules on', `${ratio.toFixed(1)} F`, '≤ 6 F (reach 3)');
  withShop();
  const edit = editAmongHoles(20_000);
  row(
    'an edit among 20,000 holes, each spotted, drilled and tapped',
    `${edit.toFixed(0)} ms (${(edit / one.floor).toFixed(2)} F)`,
    'none set',
  );
  row(
    'worst edit (G90 to G91 in the header)',
    `${(worstEdit(million) / one.floor).toFixed(1)} F`,
    'one analysis (reach 2 F)',
  );
  const kept = (await memoryOf(million)) + million.length;
  row('kept memory, text included', `${(kept / 1_000_000).toFixed(0)} B a line`, '≤ 110 B (reach 80)');
  const two = whole(finishingProgram(2_000_000), 5);
  row('2 M lines against 1 M', `${(two.milliseconds / one.milliseconds).toFixed(2)} ×`, '≤ 2.2 ×');
  const json = await jsonService(million);
  const faster = json.milliseconds / json.floor / ratio;
  row(
    'against vscode-json-languageservice',
    `${faster.toFixed(1)} × faster (it: ${(json.milliseconds / json.floor).toFixed(0)} F)`,
    '≥ 6 × (reach 12)',
  );
};

void main();

import { describe, expect, it } from 'vitest';
import { Analysis } from '../checks/analysis.ts';
import { type Configuration, DEFAULT_CONFIGURATION, type ToolRow } from '../machine/configuration.ts';
import { blockActions } from './blockActions.ts';
import type { BlockAction } from './liftCode.ts';
import { type TracedMove, tracedMoves } from './trace.ts';

const analysed = (text: string, configuration: Configuration): Analysis => {
  const analysis = new Analysis(text, configuration);
  analysis.run();
  return analysis;
};

interface Case {
  readonly configuration?: Partial<Configuration>;
  readonly hasForm?: boolean;
}

/** Actions at the line that begins with `at`. */
const actionsAt = (text: string, at: string, { configuration, hasForm = false }: Case = {}): BlockAction[] => {
  const under = { ...DEFAULT_CONFIGURATION, ...configuration };
  const line = text.split('\n').findIndex((one) => one.startsWith(at));
  if (line < 0) throw new Error(`There is no line ${at}.`);
  return blockActions(analysed(text, under), under, line, hasForm);
};

/** The program with an action taken. */
const taken = (text: string, { edit }: BlockAction): string => {
  const lines = text.split('\n');
  if (edit === undefined) throw new Error('The action is no edit.');
  const first = edit.replaces?.firstLine ?? edit.line ?? 0;
  const count = edit.replaces === undefined ? 0 : edit.replaces.lastLine - edit.replaces.firstLine + 1;
  lines.splice(first, count, ...edit.lines);
  return lines.join('\n');
};

const movesOf = (text: string, configuration: Partial<Configuration> = {}): TracedMove[] => [
  ...tracedMoves(analysed(text, { ...DEFAULT_CONFIGURATION, ...configuration })),
];
const errorsOf = (text: string, configuration: Partial<Configuration> = {}): string[] =>
  analysed(text, { ...DEFAULT_CONFIGURATION, ...configuration })
    .findings()
    .findings.filter(({ severity }) => severity === 'error')
    .map(({ rule }) => rule);
const titles = (actions: readonly BlockAction[]): string[] => actions.map(({ title }) => title);

const program = (tool: string, body: string): string =>
  `%\nO1\nG17 G21 G40 G49 G80 G90 G94 G54\n${tool}\nS3000 M3\nG0 X0. Y0.\nG43 H1 Z50.\n${body}\nG0 Z50.\nM5\nM30\n%`;

const HELIX = `G0 X20. Y10.
G0 Z2.
G1 Z0. F300
G3 X24.5 I2.25 J0. F250
G3 Z-1. I-4.5 J0.
G3 Z-2. I-4.5 J0.
G3 Z-3. I-4.5 J0.
G3 I-4.5 J0.
G3 X20. I-2.25 J0.
G0 Z20.`;

describe('a helix of full turns', () => {
  const text = program('T1 M6 (END MILL D10 4FL)', HELIX);

  it('becomes a helical bore on the same wall, as deep, with the same feed', () => {
    const [action, ...more] = actionsAt(text, 'G3 Z-2.');
    expect(more).toEqual([]);
    expect(action.title).toBe('Turn into a block: helical bore of 19');
    const after = taken(text, action);
    expect(after).toContain('BLOCKWRIGHT-BLOCK HELICAL-BORE BORE=19 DEPTH=3 TOOL=10 FLUTES=4');
    expect(after).toContain('BLOCKWRIGHT-WITH LEAD=1 SPEED=3000 FEED=250 FEED-AT=CENTRE');
    expect(errorsOf(after)).toEqual([]);
    const turns = movesOf(after).filter(({ arc }) => arc !== undefined && Math.abs(arc.sweep) > 359);
    expect(turns.map(({ to, arc, feed }) => [...to, arc?.radius, arc?.clockwise, feed])).toEqual(
      [-1, -2, -3, -3].map((z) => [24.5, 10, z, 4.5, false, 250]),
    );
    // The rapid before stays, what stood for the bore is gone.
    expect(after.split('G3 Z-1. I-4.5 J0.')).toHaveLength(1);
    expect(after).toContain('G0 X20. Y10.\n');
  });

  it('is offered on every line of it, and to a form with its values', () => {
    for (const at of ['G0 Z2.', 'G1 Z0.', 'G3 X24.5', 'G3 I-4.5', 'G3 X20.'])
      expect(titles(actionsAt(text, at)), at).toEqual(['Turn into a block: helical bore of 19']);
    for (const at of ['G0 X20.', 'S3000', 'M5', 'G0 Z20.']) expect(actionsAt(text, at), at).toEqual([]);
    const [{ form, title, edit }] = actionsAt(text, 'G3 Z-2.', { hasForm: true });
    expect(title).toBe('Turn into a block: helical bore of 19…');
    expect(edit).toBeUndefined();
    expect(form).toMatchObject({
      name: 'helical-bore',
      values: { bore: '19', tool: '10', depth: '3', lead: '1', at: '20,10', speed: '3000', feed: '250', retract: '20' },
      replaces: { firstLine: 9, lastLine: 16 },
    });
  });

  it('goes conventional where it is clockwise, says of a level turn that is new, and takes multi-turn words', () => {
    const conventional = text.replaceAll('G3', 'G2').replace('G3 I-4.5', 'G2 I-4.5');
    const [action] = actionsAt(conventional, 'G2 Z-2.');
    expect(taken(conventional, action)).toContain('DIRECTION=CONVENTIONAL');
    const level = text.replace('G3 I-4.5 J0.\n', '');
    expect(titles(actionsAt(level, 'G3 Z-2.'))).toEqual([
      'Turn into a block: helical bore of 19, with a level turn at the bottom',
    ]);
    const turns = text.replace(/G3 Z-1[\s\S]*G3 Z-3\./, 'G3 Z-3. P3').replace('P3 I-4.5 J0.', 'I-4.5 J0. P3');
    expect(turns).toContain('G3 Z-3. I-4.5 J0. P3');
    expect(titles(actionsAt(turns, 'G3 Z-3.'))).toEqual(['Turn into a block: helical bore of 19']);
  });

  it('is offered beside a loop and in a subprogram that is called once, and not where it runs again', () => {
    const beside = text.replace('M5', '#1=0\nWHILE [#1 LT 2] DO1\n#1=#1+1\nG0 X[#1*10]\nEND1\nM5');
    const [action] = actionsAt(beside, 'G3 Z-2.');
    expect(errorsOf(taken(beside, action))).toEqual([]);
    const called = text.replace(HELIX, 'M98 P200').replace('M30\n', `M30\nO200\n${HELIX}\nM99\n`);
    expect(titles(actionsAt(called, 'G3 Z-2.'))).toEqual(['Turn into a block: helical bore of 19']);
    expect(actionsAt(called.replace('M98 P200', 'M98 P200\nM98 P200'), 'G3 Z-2.')).toEqual([]);
    // Nobody knows what would be lost where a jump leads to one of its lines.
    const jumped = text.replace('G3 Z-2.', 'N100 G3 Z-2.').replace('M5\n', 'IF [1 EQ 2] GOTO 100\nM5\n');
    expect(actionsAt(jumped, 'N100')).toEqual([]);
  });

  it('says how many passes a core needs, or takes the hole that is drilled there', () => {
    const wide = program('T1 M6 (END MILL D6 4FL)', HELIX);
    expect(titles(actionsAt(wide, 'G3 Z-2.'))).toEqual(['Turn into a block: helical bore of 15, in 2 radial passes']);
    const drilled = wide.replace(
      'T1 M6 (END',
      'T2 M6 (DRILL D12)\nS800 M3\nG0 X20. Y10.\nG43 H2 Z50.\nG81 Z-12. R2. F100\nG80\nG0 Z50.\nT1 M6 (END',
    );
    const [action] = actionsAt(drilled, 'G3 Z-2.');
    expect(action.title).toBe('Turn into a block: helical bore of 15');
    expect(taken(drilled, action)).toContain('PILOT=12');
  });

  it.each([
    ['a cutter that nobody knows', program('T1 M6', HELIX), 'G3 Z-2.'],
    ['a thread mill', program('T1 M6 (THREAD MILL D10)', HELIX), 'G3 Z-2.'],
    ['coolant on the way', text.replace('G3 Z-2.', 'M8 G3 Z-2.'), 'G3 Z-3.'],
    ['radius compensation', text.replace('G3 X24.5 I2.25 J0. F250', 'G41 D1 G3 X24.5 I2.25 J0. F250'), 'G3 Z-2.'],
    ['one turn only', text.replace('G3 Z-1. I-4.5 J0.\nG3 Z-2. I-4.5 J0.\n', ''), 'G3 Z-3.'],
    ['turns about two centres', text.replace('G3 Z-2. I-4.5', 'G3 Z-2. I-4.'), 'G3 Z-1.'],
    // Behind the bore F is used as the bore left it, and the block would put it back to what it was.
    [
      'a feed that something behind counts on',
      text.replace('G0 X20.', 'G1 X1. F99\nG0 X20.').replace('G0 Z20.', 'G0 Z20.\nX60.\nG1 Z-1.\nG0 Z50.'),
      'G3 Z-2.',
    ],
    [
      'a loop',
      text.replace('G0 X20.', '#1=0\nWHILE [#1 LT 2] DO1\n#1=#1+1\nG0 X20.').replace('G0 Z20.', 'G0 Z20.\nEND1'),
      'G3 Z-2.',
    ],
  ])('is left alone with %s', (_, code, at) => {
    expect(actionsAt(code, at)).toEqual([]);
  });
});

const drilling = (places: string, tool = 'T1 M6 (DRILL D5)'): string =>
  program(tool, `G98 G81 ${places} Z-12. R3. F120\nG80`);

describe('equal cycles', () => {
  it('become a row, a circle or a list, at the same places down to the same levels', () => {
    const row = drilling('X10. Y5.', undefined).replace(' Z-12. R3. F120', ' Z-12. R3. F120\nX20.\nX30.\nX40.');
    const [action] = actionsAt(row, 'X30.');
    expect(action.title).toBe('Turn into a block: a row of 4 holes');
    const after = taken(row, action);
    expect(after).toContain('PATTERN=ROW AT=10,5 COUNT=4 SPACING=10');
    const bottoms = (text: string): unknown[] =>
      movesOf(text).flatMap(({ kind, to }) => (kind === 'line' ? [to.map((value) => Number(value.toFixed(4)))] : []));
    expect(bottoms(after)).toEqual(bottoms(row));
    expect(errorsOf(after)).toEqual([]);

    const circle = drilling('X30. Y0.').replace(
      'F120\n',
      'F120\nX15. Y25.981\nX-15. Y25.981\nX-30. Y0.\nX-15. Y-25.981\nX15. Y-25.981\n',
    );
    const [bolts] = actionsAt(circle, 'X-30.');
    expect(bolts.title).toBe('Turn into a block: 6 holes on a circle of 60');
    expect(taken(circle, bolts)).toContain('PATTERN=CIRCLE AT=0,0 COUNT=6 RADIUS=30');

    const rows = 'F120\nX20.\nX30.\nX30. Y17.\nX20.\nX10.\n';
    const grid = drilling('X10. Y5.').replace('F120\n', rows);
    const [plate] = actionsAt(grid, 'X30. Y17.');
    expect(plate.title).toBe('Turn into a block: a grid of 3 by 2 holes');
    expect(taken(grid, plate)).toContain('PATTERN=GRID AT=10,5 COUNT=3,2 SPACING=10,12');
    expect(bottoms(taken(grid, plate))).toEqual(bottoms(grid));
    // Each hole with its cycle written out.
    const whole = grid
      .replaceAll(/^(X\d+\.(?: Y17\.)?)$/gm, '$1 Z-12. R3.')
      .replaceAll(/^X(.*)R3\.$/gm, 'G81 X$1R3. F120');
    expect(whole).toContain('\nG81 X30. Y17. Z-12. R3. F120\n');
    expect(titles(actionsAt(whole, 'G81 X30. Y17.'))).toEqual(['Turn into a block: a grid of 3 by 2 holes']);

    const list = drilling('X10. Y5.').replace('F120\n', 'F120\nX22. Y7.\nX31. Y1.\n');
    const [places] = actionsAt(list, 'X22.');
    expect(places.title).toBe('Turn into a block: 3 holes');
    expect(taken(list, places)).toContain('AT=10,5/22,7/31,1');
  });

  it('keep pecks, levels and G99, in inches too, and say where the block has another cycle', () => {
    const deep = drilling('X10. Y5.').replace('G98 G81', 'G99 G83').replace('F120\n', 'Q3. F120\nX20.\n');
    const [action] = actionsAt(deep, 'X20.');
    expect(action.title).toBe('Turn into a block: 2 holes, by G73 instead of G83');
    const after = taken(deep, action);
    expect(after).toContain('DRILL.PECK=3');
    expect(after).toContain('BETWEEN=CLEARANCE');
    expect(after).toContain('CLEARANCE=3 RETRACT=50');
    const inch = drilling('X1. Y.5', 'T1 M6 (DRILL 1/4)')
      .replace('G21', 'G20')
      .replace('Z-12. R3. F120', 'Z-.5 R.1 F5.\nX2.');
    const [same] = actionsAt(inch, 'X2.');
    expect(taken(inch, same)).toContain('AT=25.4,12.7/50.8,12.7 DRILL.DIAMETER=6.35');
  });

  it('ask for the drill in the form where nobody knows it, and are left alone without a form', () => {
    const unknown = drilling('X10. Y5.', 'T1 M6').replace('F120\n', 'F120\nX20.\n');
    expect(actionsAt(unknown, 'X20.')).toEqual([]);
    const [{ form }] = actionsAt(unknown, 'X20.', { hasForm: true });
    expect(form?.values).toMatchObject({ at: '10,5;20,5', speed: '3000', feed: '120' });
    expect(form?.values['drill.diameter']).toBeUndefined();
  });

  it.each([
    ['one hole alone', drilling('X10. Y5.'), 'G98'],
    ['a hole of another depth', drilling('X10. Y5.').replace('F120\n', 'F120\nX20. Z-14.\nX30.\n'), 'X30.'],
    ['coolant among the holes', drilling('X10. Y5.').replace('F120\n', 'F120\nM8\nX30.\n'), 'X30.'],
    ['a computed place', drilling('X10. Y5.').replace('F120\n', 'F120\nX[10.*3]\n'), 'X[10.'],
    ['a mode that stays', drilling('X10. Y5.').replace('G98 G81', 'G55 G81').replace('F120\n', 'F120\nX30.\n'), 'X30.'],
    ['holes the other way up', drilling('X10. Y5.').replace('G17', 'G18').replace('F120\n', 'F120\nX30.\n'), 'X30.'],
    ['a milling cutter', drilling('X10. Y5.', 'T1 M6 (END MILL D5)').replace('F120\n', 'F120\nX30.\n'), 'X30.'],
  ])('are left alone with %s', (_, code, at) => {
    expect(titles(actionsAt(code, at))).toEqual([]);
  });
});

const tap = (holder: ToolRow['holder']): Partial<Configuration> => ({
  tools: [{ number: 4, kind: 'tap', thread: 'M6', ...(holder === undefined ? {} : { holder }) }],
});

describe('tapping', () => {
  const code = (cycle: string): string =>
    program('T4 M6', `${cycle} X10. Y5. Z-15. R5.\nX30.\nG80`).replace('H1', 'H4').replace('S3000', 'S500');

  it('at a feed that does not match becomes a block that does, for the holder', () => {
    const wrong = code('G84 F400');
    const configuration = tap({ kind: 'synchronised' });
    expect(errorsOf(wrong, configuration)).toEqual(['tap-feed-mismatch']);
    const [action] = actionsAt(wrong, 'G84', { configuration });
    expect(action).toMatchObject({
      title: 'Write a tapping block instead: M6X1 in a synchronised holder',
      repairs: 'tap-feed-mismatch',
    });
    const after = taken(wrong, action);
    expect(after).toContain('BLOCKWRIGHT-BLOCK TAPPING THREAD=M6X1 DEPTH=12');
    expect(errorsOf(after, configuration)).toEqual([]);
    const down = movesOf(after, configuration).filter(({ kind, from, to }) => kind === 'line' && to[2] < from[2]);
    expect(down.map(({ to, feed }) => [...to, feed])).toEqual([
      [10, 5, -15, 500],
      [30, 5, -15, 500],
    ]);
  });

  it('in a drilling cycle goes in and out at feed with a self-reversing head, less its self-feed', () => {
    const wrong = code('G81 F500');
    const configuration = tap({ kind: 'reversing', ratio: 1.75, selfFeed: 3, freeUp: 2 });
    expect(errorsOf(wrong, configuration)).toContain('tap-in-drilling-cycle');
    const [action] = actionsAt(wrong, 'G81', { configuration });
    expect(action.title).toBe('Write a tapping block instead: M6X1 in a self-reversing head');
    expect(action.repairs).toBe('tap-in-drilling-cycle');
    const after = taken(wrong, action);
    expect(errorsOf(after, configuration)).toEqual([]);
    const ways = movesOf(after, configuration).filter(({ kind }) => kind === 'line');
    expect(ways.filter(({ from, to }) => to[2] < from[2]).map(({ to, feed }) => [to[2], feed])).toEqual([
      [-15, 500],
      [-15, 500],
    ]);
    expect(new Set(ways.filter(({ from, to }) => to[2] > from[2]).map(({ feed }) => feed))).toEqual(new Set([875]));
    expect(after).toContain('DEPTH=15');
  });

  it('by moves that leave at rapid becomes a block, or what is right for the holder', () => {
    const byHand = program('T4 M6', 'G0 X10. Y5.\nG0 Z5.\nG1 Z-15. F500\nG0 Z5.')
      .replace('H1', 'H4')
      .replace('S3000', 'S500');
    const configuration = tap({ kind: 'reversing', ratio: 1.75, selfFeed: 3, freeUp: 2 });
    expect(errorsOf(byHand, configuration)).toContain('tap-in-drilling-cycle');
    const line = byHand.split('\n').indexOf('G1 Z-15. F500') + 1;
    const under = { ...DEFAULT_CONFIGURATION, ...configuration };
    const [action] = blockActions(analysed(byHand, under), under, line, false);
    expect(action.title).toBe('Write a tapping block instead: M6X1 in a self-reversing head');
    const after = taken(byHand, action);
    expect(after).toContain('G0 Z5.\n( BLOCKWRIGHT-BLOCK TAPPING');
    expect(errorsOf(after, configuration)).toEqual([]);
    // In with the spindle, out against it: what is right by hand becomes the cycle.
    const right = byHand.replace('G0 Z5.\nG0 Z50.', 'M4\nG1 Z5.\nM3\nG0 Z50.');
    const float = tap({ kind: 'float', float: 15 });
    expect(errorsOf(right, float)).toEqual([]);
    const [turned] = actionsAt(right, 'G1 Z-15.', { configuration: float });
    expect(turned.title).toBe('Turn into a block: M6X1 in a float holder');
    expect(taken(right, turned)).toMatch(/G84 X10. Y5. Z-15. R5. F500/);
  });

  it('leaves the holder to the form where nobody knows it', () => {
    const configuration = tap(undefined);
    expect(actionsAt(code('G84 F400'), 'G84', { configuration })).toEqual([]);
    const [{ form }] = actionsAt(code('G84 F400'), 'G84', { configuration, hasForm: true });
    expect(form).toMatchObject({ name: 'tapping', values: { thread: 'M6X1', depth: '12', at: '10,5;30,5' } });
    expect(form?.values.holder).toBeUndefined();
  });
});

describe('holes drilled to tap size', () => {
  const configuration = { ...tap({ kind: 'synchronised' }), material: { name: 'steel' } };
  const drilled = drilling('X10. Y5.').replace('F120\n', 'F120\nX30.\n').replace('Z-12.', 'Z-20.');
  const onlyTaps = (actions: readonly BlockAction[]): BlockAction[] =>
    actions.filter(({ title }) => title.startsWith('Tap '));

  it('are tapped behind the drill with the tap of the table', () => {
    const [action, ...more] = onlyTaps(actionsAt(drilled, 'X30.', { configuration }));
    expect(more).toEqual([]);
    expect(action.title).toBe('Tap these holes M6X1 behind the drill');
    const after = taken(drilled, action);
    expect(errorsOf(after, configuration)).toEqual([]);
    const lines = after.split('\n');
    expect(lines[lines.findIndex((line) => line.includes('BLOCKWRIGHT-BLOCK TAPPING')) - 1]).toBe('G80');
    const tapped = movesOf(after, configuration).filter(
      ({ tool, kind, from, to }) => tool === 4 && kind === 'line' && to[2] < from[2],
    );
    // Full diameter to 18.5; the lead of 3 and 1.5 free threads stay above it: 13.5 deep, tip at 16.5.
    expect(tapped.map(({ to }) => to)).toEqual([
      [10, 5, -16.5],
      [30, 5, -16.5],
    ]);
  });

  it('are asked about in the form without a tap in the table, and not without a form', () => {
    expect(onlyTaps(actionsAt(drilled, 'X30.'))).toEqual([]);
    const [action] = onlyTaps(actionsAt(drilled, 'X30.', { hasForm: true }));
    expect(action.form).toMatchObject({ name: 'tapping', values: { thread: 'M6X1', depth: '13.5', at: '10,5;30,5' } });
    expect(action.form?.replaces).toBeUndefined();
  });

  it.each([
    [
      'are tapped already',
      drilled.replace(
        'G0 Z50.\nM5',
        'G0 Z50.\nT4 M6\nS500 M3\nG43 H4 Z50.\nG84 X10. Y5. Z-15. R5. F500\nX30.\nG80\nG0 Z50.\nM5',
      ),
    ],
    [
      'are reamed later',
      drilled.replace(
        'G0 Z50.\nM5',
        'G0 Z50.\nT5 M6 (REAMER D5.2)\nS500 M3\nG43 H5 Z50.\nG85 X10. Y5. Z-15. R5. F50\nX30.\nG80\nG0 Z50.\nM5',
      ),
    ],
    ['fit no tap', drilled.replace('DRILL D5', 'DRILL D5.5')],
    ['are too shallow', drilled.replaceAll('Z-20.', 'Z-6.')],
  ])('are left alone where they %s', (_, code) => {
    expect(onlyTaps(actionsAt(code, 'G98', { configuration, hasForm: true }))).toEqual([]);
  });
});

describe('a cutter that does not go into its hole', () => {
  const wrong = program(
    'T2 M6 (DRILL D12)',
    'G81 X20. Y10. Z-15. R2. F100\nG80\nG0 Z50.\nM5\nT1 M6\nS3000 M3\nG0 X20. Y10.\nG43 H1 Z50.\nG0 Z2.\nG0 Z-8.\nG1 X35. F300\nG3 I-15. J0.\nG1 X20.\nG0 Z50.',
  ).replace('G43 H1', 'G43 H2');
  const configuration: Partial<Configuration> = { tools: [{ number: 1, kind: 'end-mill', diameter: 16 }] };

  it('goes down in a helix from the top, in passes where a core would stand', () => {
    expect(errorsOf(wrong, configuration)).toEqual(['tool-too-large']);
    const [action] = actionsAt(wrong, 'G0 Z-8.', { configuration });
    expect(action).toMatchObject({
      title: 'Go down in a helix instead: bore of 46, in 2 radial passes',
      repairs: 'tool-too-large',
    });
    const after = taken(wrong, action);
    expect(errorsOf(after, configuration)).toEqual([]);
    expect(after).toContain('PILOT=12');
    const turns = movesOf(after, configuration).filter(({ arc }) => arc !== undefined && Math.abs(arc.sweep) > 359);
    const last = turns[turns.length - 1];
    expect([last.to[2], last.arc?.radius, last.feed]).toEqual([-8, 15, 300]);
  });
});

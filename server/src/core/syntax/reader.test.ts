/** Characters to words: what the design's "Text to blocks" says, and that nothing breaks the reader. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type ControlProfile, PROFILES } from '../machine/profile.ts';
import { Block, BlockKind } from './block.ts';
import { BlockReader } from './reader.ts';
import { Variables } from './variables.ts';

const read = (text: string, profile: ControlProfile = PROFILES.iso, variables = new Variables()): Block => {
  const block = new Block();
  new BlockReader(profile).read(text, 0, text.length, block, variables);
  return block;
};

/** Words as letter and value. */
const words = (text: string, profile?: ControlProfile, variables?: Variables): (string | number)[][] => {
  const block = read(text, profile, variables);
  return Array.from({ length: block.wordCount }, (_, i) => [
    String.fromCharCode(65 + block.letters[i]),
    block.values[i],
  ]);
};

/** Complaints as code, message and the text they stand at. */
const faults = (text: string, profile?: ControlProfile): string[][] =>
  read(text, profile, new Variables(new Map([[1, 5]]))).faults.map(({ code, message, start, end }) => [
    code,
    message,
    text.slice(start, end),
  ]);

const clean = (text: string, profile?: ControlProfile): void => expect(faults(text, profile)).toEqual([]);

describe('words', () => {
  it.each([
    ['X-12.5', -12.5],
    ['X.5', 0.5],
    ['X5.', 5],
    ['X+7', 7],
    ['X-.25', -0.25],
    ['X0', 0],
    ['X000012', 12],
    ['X123456789', 123456789],
    ['X1234567890.5', 1234567890.5],
    ['X0.1234567891', 0.1234567891],
    ['x3', 3],
    ['X 1 0 . 5', 10.5],
    ['X - 1', -1],
    ['X\t5', 5],
    ['Z 10.0', 10],
    ['X[1+2]', 3],
    ['Z [ 1 + 2. ]', 3],
    ['X-[1+2]', -3],
    ['X- [1]', -1],
    ['X#101', 5],
    ['X-#101', -5],
    ['X# 101', 5],
    ['X##2', 5],
    ['X[#1+2.*COS[60]]', 4],
    ['X#[100+1]', 5],
    ['X-COS[60]', -0.5],
    ['X#<depth of cut>', 6],
    ['X#<DEPTHofCUT>', 6],
  ])('%s', (text, value) => {
    const variables = new Variables(
      new Map<string | number, number>([
        [101, 5],
        [2, 101],
        [1, 3],
        ['depthofcut', 6],
      ]),
    );
    const block = read(text, PROFILES.iso, variables);
    expect(block.faults).toEqual([]);
    expect(block.wordCount).toBe(1);
    expect(block.values[0]).toBeCloseTo(value, 12);
    expect([block.starts[0], block.ends[0]]).toEqual([0, text.length]);
  });

  it('spaces mean nothing, letter case neither', () => {
    expect(words('g 0 x 1 0 y-2 . 5z3')).toEqual(words('G0X10Y-2.5Z3'));
    expect(words('G0X10Y-2.5Z3')).toEqual([
      ['G', 0],
      ['X', 10],
      ['Y', -2.5],
      ['Z', 3],
    ]);
    expect(words('G01X1.Y2.M98P1L2')).toEqual([
      ['G', 1],
      ['X', 1],
      ['Y', 2],
      ['M', 98],
      ['P', 1],
      ['L', 2],
    ]);
  });

  it('a word of a variable that holds nothing is not there', () => {
    const block = read('X#5 Y1');
    expect(block.has(23)).toBe(false);
    expect(block.has(24)).toBe(true);
    expect(read('X#5', PROFILES.rs274ngc).value(23)).toBe(0);
  });

  it('a word twice is told, I J K of a macro call are not', () => {
    expect(faults('G1 X1 X2')).toEqual([['word-repeated', 'repeated', 'X2']]);
    clean('G65 P9010 A1 I1 J2 K3 I4 J5 K6');
    clean('G0 G90 M3 M8');
  });
});

describe('start of a block', () => {
  it('block delete, sequence number, program number', () => {
    expect(read('N120 X1').sequenceNumber).toBe(120);
    expect(read('/N120 X1')).toMatchObject({ deleteLevel: 1, sequenceNumber: 120 });
    expect(read(' /9 N7')).toMatchObject({ deleteLevel: 9, sequenceNumber: 7 });
    expect(read('/ X1').deleteLevel).toBe(1);
    expect(read('O1234 (PLATE)').programNumber).toBe(1234);
    expect(faults('X1 N5')).toEqual([['bad-word', 'needs-start', 'N5']]);
    expect(faults('N1 N5')).toEqual([['bad-word', 'needs-start', 'N5']]);
    expect(faults('X1 O5')).toEqual([['bad-word', 'needs-start', 'O5']]);
    expect(faults('X1 /2')[0]?.slice(0, 2)).toEqual(['bad-word', 'needs-start']);
  });

  it('a colon is a program number or in the place of N', () => {
    expect(read(':1234')).toMatchObject({ programNumber: 1234, sequenceNumber: -1 });
    expect(read(':1234', PROFILES.rs274ngc)).toMatchObject({ programNumber: -1, sequenceNumber: 1234 });
    expect(faults(':')).toEqual([['bad-word', 'stray', ':']]);
    expect(faults('X1 :5')[0]?.slice(0, 2)).toEqual(['bad-word', 'stray']);
  });

  it.each(['%', '  %', '% PART 12', '%12', '%(NAME)'])('%s is a tape mark', (text) => {
    expect(read(text).kind).toBe(BlockKind.tapeMark);
    clean(text);
  });

  it('a percent sign behind words is not', () => {
    expect(read('X1 %').kind).toBe(BlockKind.words);
    expect(faults('X1 %')).toEqual([['bad-word', 'stray', '%']]);
  });

  it('a byte order mark is passed over', () => {
    clean('\uFEFFG0 X1');
    expect(words('\uFEFFG0 X1').length).toBe(2);
  });
});

describe('remarks', () => {
  const remarks = (text: string, profile?: ControlProfile) => {
    const block = read(text, profile);
    return block.remarks.flatMap((start, i) => (i % 2 === 0 ? [text.slice(start, block.remarks[i + 1])] : []));
  };

  it('in brackets, behind a semicolon, behind two slashes at the start', () => {
    expect(remarks('G0 (RAPID) X1 (TO) ; the part (1)')).toEqual(['RAPID', 'TO', ' the part (1)']);
    expect(remarks('// X1')).toEqual([' X1']);
    expect(words('// X1')).toEqual([]);
    expect(words('G0 (X5) X1 ; Y7')).toEqual([
      ['G', 0],
      ['X', 1],
    ]);
    expect(remarks('(A (B) X1')).toEqual(['A (B']);
  });

  it('not nested: what stands behind the first closing bracket is read', () => {
    expect(words('(A (B) X1)')).toEqual([['X', 1]]);
    expect(faults('(A (B) X1)')).toEqual([['bad-word', 'stray', ')']]);
  });

  it('a bracket left open costs the rest of its block', () => {
    expect(faults('X1 (NO END')).toEqual([['comment-unclosed', 'unclosed', '(NO END']]);
    expect(words('X1 (NO END')).toEqual([['X', 1]]);
    const two = 'X1 (NO END\nX2 )';
    const block = new Block();
    new BlockReader(PROFILES.iso).read(two, 0, 10, block, undefined);
    expect(block.faults.map(({ code, end }) => [code, end])).toEqual([['comment-unclosed', 10]]);
  });

  it('very many brackets left open are read in a moment', () => {
    const line = '(NO END\n';
    const text = line.repeat(300_000);
    const reader = new BlockReader(PROFILES.iso);
    const block = new Block();
    const begin = performance.now();
    for (let start = 0; start < text.length; start += line.length) {
      reader.read(text, start, start + line.length - 1, block, undefined);
    }
    const named = 'X#<NO END\n';
    const other = named.repeat(300_000);
    for (let start = 0; start < other.length; start += named.length) {
      reader.read(other, start, start + named.length - 1, block, undefined);
    }
    // Scanning to the text's end for every bracket took minutes.
    expect(performance.now() - begin).toBeLessThan(5_000);
  });

  it('styles that the profile does not have are words', () => {
    const remarksOff = { ...PROFILES.iso, remarks: { brackets: true, semicolon: false, slashes: false } };
    expect(words('X1 ; Y2', remarksOff)).toEqual([
      ['X', 1],
      ['Y', 2],
    ]);
    expect(faults('X1 ; Y2', remarksOff)[0]?.[0]).toBe('bad-word');
  });

  it('characters outside the set: told in words, in remarks only where the profile says so', () => {
    expect(faults('X1 Ø5')).toEqual(
      [
        ['character-set', 'outside', 'Ø'],
        ['bad-word', 'stray', '5'],
      ].slice(0, 1),
    );
    clean('(Ø5)');
    expect(faults('(Ø5)', { ...PROFILES.iso, characterSet: 'ascii' })).toEqual([['character-set', 'outside', 'Ø']]);
  });
});

describe('a mistake costs its own word only', () => {
  it.each<[string, string[][], number]>([
    ['G1 X Y5', [['bad-word', 'letter-without-number', 'X']], 2],
    ['G1 X1.2.3 Y5', [['bad-word', 'number-malformed', 'X1.2.3']], 2],
    ['G1 X--1 Y5', [['bad-word', 'number-malformed', 'X--1']], 2],
    ['G1 X. Y5', [['bad-word', 'number-malformed', 'X.']], 2],
    ['G1 X- Y5', [['bad-word', 'number-malformed', 'X-']], 2],
    ['G1 X1E3 Y5', [['bad-word', 'number-malformed', 'X1E3']], 2],
    ['G1 X1.e-3 Y5', [['bad-word', 'number-malformed', 'X1.e-3']], 2],
    ['G1 X1 ! Y5', [['bad-word', 'stray', '!']], 3],
    ['G1 X1 -5 Y5', [['bad-word', 'stray', '-5']], 3],
    ['G1 X[1+ Y5', [['bad-word', 'unknown-function', 'Y']], 1],
    ['G1 X[1+] Y5', [['bad-word', 'expression-malformed', ']']], 2],
    ['G1 X[1+2 Y5', [['bad-word', 'bracket-missing', '[1+2']], 2],
    ['G1 XSIM[3] Y5', [['bad-word', 'unknown-function', 'SIM']], 2],
    ['G1 T-1 Y5', [['bad-word', 'number-range', 'T-1']], 2],
    ['G1 M3.5 Y5', [['bad-word', 'number-range', 'M3.5']], 2],
    [
      'G1 X1OO Y5',
      [
        ['letter-for-digit', 'letter', 'O'],
        ['letter-for-digit', 'letter', 'O'],
      ],
      2,
    ],
    ['GO X1 Y5', [['letter-for-digit', 'letter', 'O']], 2],
    ['G1 X1 $500 Y5', [['letter-for-digit', 'letter', '$']], 3],
    ['G1 Xl0 Y5', [['letter-for-digit', 'letter', 'l']], 2],
    ['G1 XI0 Y5', [['letter-for-digit', 'letter', 'I']], 2],
    ['GOTO', [['bad-word', 'expression-malformed', 'O']], 0],
  ])('%s', (text, expected, count) => {
    expect(faults(text)).toEqual(expected);
    expect(words(text).length).toBe(count);
  });

  it.each([
    'M98P1L2',
    'm98p1l2',
    'g81x1.l3',
    'GOTO 100',
    'N10GOTO100',
    'G O T O 100',
    'IF [#1 EQ 0] GOTO 10',
    'IF[#1EQ0]GOTO10',
    'IF [#1 EQ 0] GO TO 10',
    'IF [#1 EQ 0] THEN #2=5',
    'WHILE [#1 LT 10] DO1',
    'END1',
    'N10 END 1',
    'DO 2',
    'X1 E3',
    'G2 X1 I0 J1',
    'G0 X1L2',
    'O1000',
    'G91G28Z0',
    '#1=5 #2=6',
    '#<depth>=[5.*2]',
    'M98 P1000 L5',
  ])('no false alarm in %s', (text) => clean(text));

  it('powers of ten are no numbers in assignments either', () => {
    expect(faults('#1=1E3').map(([code, message]) => [code, message])).toEqual([['bad-word', 'number-malformed']]);
    clean('#1=[2EQ2]');
  });

  it('flow is no flow where the profile has none', () => {
    expect(faults('GOTO 100', PROFILES.rs274ngc).length).toBe(1);
    expect(read('GOTO 100', PROFILES.rs274ngc).kind).toBe(BlockKind.words);
  });
});

describe('flow statements', () => {
  it.each([
    ['GOTO 100', 'goto', 1, 100],
    ['IF [1 EQ 1] GOTO 20', 'if-goto', 1, 20],
    ['IF [1 EQ 2] GOTO #1', 'if-goto', 0, 7],
    ['WHILE [#1 GT 3] DO 2', 'while', 1, 2],
    ['DO3', 'while', 1, 3],
    ['END3', 'end', 1, 3],
    ['IF [#1 EQ 7] THEN #2=1', 'if-then', 1, Number.NaN],
  ])('%s', (text, kind, condition, target) => {
    const block = read(text, PROFILES.iso, new Variables(new Map([[1, 7]])));
    expect(block.faults).toEqual([]);
    expect(block.flow).toMatchObject({ kind, condition, target, start: 0, end: text.length });
  });
});

describe('assignments', () => {
  const assigned = (text: string, profile?: ControlProfile) => {
    const variables = new Variables();
    words(text, profile, variables);
    return Object.fromEntries(variables.snapshot());
  };

  it('with and without outer brackets, numbered and named', () => {
    expect(assigned('#101=5 #<Depth>=[2*3] #3 = -4. + 1')).toEqual({ 101: 5, depth: 6, 3: -3 });
  });

  it('at once, or together behind the reads of the block', () => {
    expect(words('#1=2 X#1')).toEqual([['X', 2]]);
    expect(words('#1=2 X#1', PROFILES.rs274ngc)).toEqual([['X', 0]]);
    expect(assigned('#1=2 #2=#1')).toEqual({ 1: 2, 2: 2 });
    expect(assigned('#1=2 #2=#1', PROFILES.rs274ngc)).toEqual({ 1: 2, 2: 0 });
  });

  it('THEN assigns only where the condition holds; where nobody knows, the value is unknown', () => {
    const late = { ...PROFILES.iso, assignments: 'after-block' as const };
    for (const profile of [PROFILES.iso, late]) {
      expect(assigned('IF [1 EQ 1] THEN #1=5', profile)).toEqual({ 1: 5 });
      expect(assigned('IF [1 EQ 2] THEN #1=5', profile)).toEqual({});
      expect(assigned('IF [#5000 EQ 2] THEN #1=5', profile)).toEqual({ 1: Number.NaN });
    }
  });

  it('assigning an empty variable empties', () => {
    const variables = new Variables(new Map([[1, 5]]));
    words('#1=#2', PROFILES.iso, variables);
    expect(variables.get(1)).toBeUndefined();
    words('#0=3', PROFILES.iso, variables);
    expect(variables.get(0)).toBeUndefined();
  });
});

describe('total', () => {
  const piece = fc.oneof(
    fc.constantFrom(
      'G',
      'X',
      'N',
      'O',
      '#',
      '[',
      ']',
      '=',
      '-',
      '.',
      '(',
      ')',
      ';',
      '%',
      '/',
      ':',
      '$',
      ' ',
      '\t',
      '<',
    ),
    fc.constantFrom(
      'IF',
      'THEN',
      'WHILE',
      'DO',
      'END',
      'GOTO',
      'SIN[',
      'ATAN[',
      ']/[',
      'EQ',
      'MOD',
      '**',
      '>',
      'l',
      'I',
    ),
    fc.constantFrom('1', '0.5', '101', '1E3', '--', '#<a', 'Ø', '\uFEFF', '\u{1F600}', '\0', '999999999999999'),
    fc.string({ maxLength: 4, unit: 'binary' }),
  );
  const text = fc.array(piece, { maxLength: 25 }).map((pieces) => pieces.join('').replace(/[\r\n]/g, ' '));

  it.each(Object.keys(PROFILES))('%s: random blocks never throw, and every place is inside and in order', (name) => {
    const reader = new BlockReader(PROFILES[name]);
    const block = new Block();
    fc.assert(
      fc.property(text, text, text, (before, own, behind) => {
        const source = `${before}\n${own}\n${behind}`;
        const start = before.length + 1;
        const end = start + own.length;
        reader.read(source, start, end, block, new Variables());
        let last = start;
        for (let i = 0; i < block.wordCount; i++) {
          expect(block.starts[i]).toBeGreaterThanOrEqual(last);
          expect(block.ends[i]).toBeGreaterThan(block.starts[i]);
          last = block.ends[i];
        }
        expect(last).toBeLessThanOrEqual(end);
        for (const fault of block.faults) {
          expect(fault.start).toBeGreaterThanOrEqual(start);
          expect(fault.end).toBeLessThanOrEqual(end);
          expect(fault.end).toBeGreaterThan(fault.start);
        }
        for (let i = 0; i + 1 < block.remarks.length; i += 2) {
          expect(block.remarks[i]).toBeGreaterThanOrEqual(start);
          expect(block.remarks[i + 1]).toBeLessThanOrEqual(end);
          expect(block.remarks[i + 1]).toBeGreaterThanOrEqual(block.remarks[i]);
        }
        if (block.flow !== undefined) {
          expect(block.flow.start).toBeGreaterThanOrEqual(start);
          expect(block.flow.end).toBeLessThanOrEqual(end);
        }
      }),
      { numRuns: 4000, seed: 7 },
    );
  });

  it('what stands around a block does not change what it says', () => {
    const alone = (source: string, start: number, end: number) => {
      const block = new Block();
      new BlockReader(PROFILES.iso).read(source, start, end, block, new Variables());
      return {
        words: Array.from({ length: block.wordCount }, (_, i) => [
          block.letters[i],
          block.values[i],
          block.starts[i] - start,
          block.ends[i] - start,
          block.flags[i],
        ]),
        faults: block.faults.map((fault) => ({ ...fault, start: fault.start - start, end: fault.end - start })),
        remarks: block.remarks.map((offset) => offset - start),
      };
    };
    fc.assert(
      fc.property(text, text, (own, behind) => {
        expect(alone(`X1\n${own}\n${behind}`, 3, 3 + own.length)).toEqual(alone(own, 0, own.length));
      }),
      { numRuns: 3000, seed: 8 },
    );
  });

  it.each([
    ['signs', `X[${'-'.repeat(200_000)}1]`],
    ['brackets', `X${'['.repeat(200_000)}`],
    ['number signs', `X${'#'.repeat(200_000)}1`],
    ['functions', `X${'SIN['.repeat(50_000)}`],
    ['digits', `X${'9'.repeat(200_000)}`],
    ['letters', 'X'.repeat(100_000)],
  ])('very many %s are read', (name, source) => {
    const begin = performance.now();
    const block = read(source);
    expect(performance.now() - begin).toBeLessThan(3_000);
    expect(block.faults.length).toBe(name === 'signs' ? 0 : name === 'letters' ? source.length : 1);
    for (let i = 0; i < block.wordCount; i++) expect(Math.abs(block.values[i])).not.toBe(Number.POSITIVE_INFINITY);
  });
});

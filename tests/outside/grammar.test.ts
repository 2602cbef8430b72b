// The highlighting grammar, read by the engine that VS Code itself uses: vscode-textmate with vscode-oniguruma.
import { readdir, readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { beforeAll, describe, expect, it } from 'vitest';
import { createOnigScanner, createOnigString, loadWASM } from 'vscode-oniguruma';
import { type IGrammar, INITIAL, parseRawGrammar, Registry } from 'vscode-textmate';

const root = new URL('../..', import.meta.url).pathname;
let grammar: IGrammar;

beforeAll(async () => {
  const wasm = createRequire(import.meta.url).resolve('vscode-oniguruma/release/onig.wasm');
  await loadWASM((await readFile(wasm)).buffer);
  const path = `${root}syntaxes/cnc-program.tmLanguage.json`;
  const registry = new Registry({
    onigLib: Promise.resolve({ createOnigScanner, createOnigString }),
    loadGrammar: async () => parseRawGrammar(await readFile(path, 'utf8'), path),
  });
  grammar = (await registry.loadGrammar('source.cnc-program'))!;
});

/** The line's pieces, each with its innermost scope less the language's name; blanks between them left out. */
function pieces(line: string): [string, string][] {
  return grammar
    .tokenizeLine(line, INITIAL)
    .tokens.map((token): [string, string] => [
      line.slice(token.startIndex, token.endIndex),
      token.scopes.at(-1)!.replace(/\.cnc-program$/, ''),
    ])
    .filter(([text, scope]) => text.trim() !== '' || scope.startsWith('comment'));
}

const motion = 'keyword.control.motion';
const other = 'support.function.preparatory';
const miscellaneous = 'support.function.miscellaneous';
const axis = 'variable.parameter.axis';
const axisNumber = 'constant.numeric.axis';
const arc = 'variable.parameter.arc';
const arcNumber = 'constant.numeric.arc';
const technology = 'storage.type.technology';
const technologyNumber = 'constant.numeric.technology';
const variable = 'variable.other';

describe('words', () => {
  it('tells motion from the other G codes', () => {
    for (const code of [
      'G0',
      'G00',
      'G1',
      'G2',
      'G03',
      'G33',
      'G38.2',
      'G73',
      'G74',
      'G76',
      'G81',
      'G89',
      'g1',
      'G 1',
    ]) {
      expect(pieces(code)).toEqual([[code, motion]]);
    }
    for (const code of ['G4', 'G10', 'G17', 'G20', 'G28', 'G30', 'G54.1', 'G80', 'G90', 'G90.1', 'G98', 'g017']) {
      expect(pieces(code)).toEqual([[code, other]]);
    }
  });

  it('reads a whole block', () => {
    expect(pieces('N120 G2 X10. Y-.5 I0 J-5. F200 S1500 T3 M6 H3')).toEqual(
      [
        ['N', 'entity.name.tag.sequence-number'],
        ['120', 'entity.name.tag.sequence-number'],
        ['G2', motion],
        ['X', axis],
        ['10.', axisNumber],
        ['Y', axis],
        ['-.5', axisNumber],
        ['I', arc],
        ['0', arcNumber],
        ['J', arc],
        ['-5.', arcNumber],
        ['F', technology],
        ['200', technologyNumber],
        ['S', technology],
        ['1500', technologyNumber],
        ['T', technology],
        ['3', technologyNumber],
        ['M6', miscellaneous],
        ['H', 'variable.parameter.other'],
        ['3', 'constant.numeric.other'],
      ].map(([text, scope]) => [expect.stringMatching(new RegExp(`^\\s*${text!.replace('.', '\\.')}\\s*$`)), scope]),
    );
  });

  it('reads words without spaces, and lower case', () => {
    const expected = [motion, axis, axisNumber, axis, axisNumber, technology, technologyNumber];
    expect(pieces('G1X10Y5F200').map(([, scope]) => scope)).toEqual(expected);
    expect(pieces('g1x10y5f200').map(([, scope]) => scope)).toEqual(expected);
    expect(pieces('G1X10Y5F200').map(([text]) => text)).toEqual(['G1', 'X', '10', 'Y', '5', 'F', '200']);
  });

  it('marks malformed words only', () => {
    expect(pieces('G1 X1.2.3 Y5.')).toEqual([
      ['G1', motion],
      ['X1.2.3', 'invalid.illegal.number'],
      ['Y', axis],
      ['5.', axisNumber],
    ]);
    expect(pieces('G1 X Y5.')[1]).toEqual(['X', 'invalid.illegal.stray']);
    expect(pieces('G1 $ Y5.')[1]).toEqual(['$', 'invalid.illegal.stray']);
  });
});

describe('remarks', () => {
  it('end at the first closing bracket', () => {
    const scopes = pieces('( a ( b ) G1').map(([text, scope]) => [text.trim(), scope.split('.')[0]]);
    expect(scopes.at(-1)).toEqual(['G1', 'keyword']);
    expect(
      pieces('( a ( b ) G1')
        .map(([text]) => text)
        .join(''),
    ).toContain('( a ( b )');
    expect(grammar.tokenizeLine('( a ( b ) G1', INITIAL).tokens.at(-2)!.scopes).not.toContain(
      'comment.block.cnc-program',
    );
  });

  it('do not run into the next line where the bracket is missing', () => {
    const first = grammar.tokenizeLine('G1 (unclosed', INITIAL);
    const [next] = grammar.tokenizeLine('G1', first.ruleStack).tokens;
    expect(next!.scopes).not.toContain('comment.block.cnc-program');
  });

  it('run to the end of the line after a semicolon, and after // at the start', () => {
    expect(
      pieces('G1 ; X5 (no)')
        .slice(1)
        .every(([, scope]) => /comment/.test(scope)),
    ).toBe(true);
    expect(pieces(' // X5').every(([, scope]) => /comment/.test(scope))).toBe(true);
    expect(pieces('G1 // X5').some(([, scope]) => /comment/.test(scope))).toBe(false);
  });
});

describe('block starts', () => {
  it('tape mark, program number, block delete', () => {
    expect(pieces('%')).toEqual([['%', 'keyword.other.tape']]);
    expect(pieces('% PLATE-7')).toEqual([
      ['%', 'keyword.other.tape'],
      [' PLATE-7', 'entity.name.section.tape'],
    ]);
    expect(pieces('O0042 (PLATE)')[0]).toEqual(['O0042', 'entity.name.function.program']);
    expect(pieces('o7')[0]).toEqual(['o7', 'entity.name.function.program']);
    expect(pieces('/2 G1')).toEqual([
      ['/2', 'keyword.other.block-delete'],
      ['G1', motion],
    ]);
    expect(pieces('/N10 G1').map(([, scope]) => scope)).toEqual([
      'keyword.other.block-delete',
      'entity.name.tag.sequence-number',
      'entity.name.tag.sequence-number',
      motion,
    ]);
  });
});

describe('variables and expressions', () => {
  it('variables, numbered and named, in words and assignments', () => {
    expect(pieces('#101=5.')).toEqual([
      ['#101', variable],
      ['=', 'keyword.operator.assignment'],
      ['5.', 'constant.numeric'],
    ]);
    expect(pieces('X#101 Y-#<width>')).toEqual([
      ['X', axis],
      ['#101', variable],
      ['Y', axis],
      ['-', 'keyword.operator.arithmetic'],
      ['#<width>', variable],
    ]);
    expect(pieces('X##2')[1]).toEqual(['##2', variable]);
  });

  it('expressions with functions, operators and nesting', () => {
    const read = pieces('X[#1+2.*COS[30]MOD 7]');
    expect(read).toEqual([
      ['X', axis],
      ['[', 'punctuation.section.expression.begin'],
      ['#1', variable],
      ['+', 'keyword.operator.arithmetic'],
      ['2.', 'constant.numeric'],
      ['*', 'keyword.operator.arithmetic'],
      ['COS', 'support.function.arithmetic'],
      ['[', 'punctuation.section.expression.begin'],
      ['30', 'constant.numeric'],
      [']', 'punctuation.section.expression.end'],
      ['MOD', 'keyword.operator.word'],
      ['7', 'constant.numeric'],
      [']', 'punctuation.section.expression.end'],
    ]);
    expect(pieces('#1=SQRT[4]')[2]).toEqual(['SQRT', 'support.function.arithmetic']);
  });

  it('flow words, written close or apart', () => {
    const flow = (line: string): string[] =>
      pieces(line)
        .filter(([, scope]) => scope === 'keyword.control')
        .map(([text]) => text.replaceAll(' ', ''));
    expect(flow('IF[#1EQ1]GOTO10')).toEqual(['IF', 'GOTO']);
    expect(flow('IF [#1 GT 1] THEN #2=3')).toEqual(['IF', 'THEN']);
    expect(flow('WHILE [#1 LT 10] DO1')).toEqual(['WHILE', 'DO1']);
    expect(flow('END1')).toEqual(['END1']);
    expect(flow('GOTO 100')).toEqual(['GOTO']);
  });
});

describe('the examples', () => {
  it('leave no word without a scope of its own', async () => {
    const names = (await readdir(`${root}examples`)).filter((name) => name.endsWith('.nc'));
    expect(names.length).toBeGreaterThan(9);
    for (const name of names) {
      let stack = INITIAL;
      for (const line of (await readFile(`${root}examples/${name}`, 'utf8')).split(/\r?\n/)) {
        const { tokens, ruleStack } = grammar.tokenizeLine(line, stack);
        stack = ruleStack;
        const bare = tokens
          .filter(({ scopes }) => scopes.length === 1)
          .map(({ startIndex, endIndex }) => line.slice(startIndex, endIndex).trim())
          .filter((text) => text !== '');
        expect(bare, `${name}: ${line}`).toEqual([]);
      }
    }
  });
});

describe('the language configuration', () => {
  it('toggles remarks by ; and by ( )', async () => {
    const configuration = JSON.parse(await readFile(`${root}syntaxes/language-configuration.json`, 'utf8'));
    expect(configuration.comments).toEqual({ lineComment: ';', blockComment: ['(', ')'] });
  });

  it('takes a word with its number as one', async () => {
    const configuration = JSON.parse(await readFile(`${root}syntaxes/language-configuration.json`, 'utf8'));
    const words = [...'G1X10.5Y-.5 #<width> #101'.matchAll(new RegExp(configuration.wordPattern, 'g'))].map(
      ([word]) => word,
    );
    expect(words).toEqual(['G1', 'X10.5', 'Y-.5', '#<width>', '#101']);
  });
});

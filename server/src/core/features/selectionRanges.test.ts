import { describe, expect, test } from 'vitest';
import { Analysis } from '../checks/analysis.ts';
import { DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { outlineOf } from './outline.ts';
import { selectionSpans, type TextSpan } from './selectionRanges.ts';

/** Texts of the stretches around the place marked by `|`; several lines as their numbers. */
function grown(marked: string): string[] {
  const offset = marked.indexOf('|');
  const text = marked.replace('|', '');
  const before = text.slice(0, offset).split('\n');
  const analysis = new Analysis(text);
  analysis.run();
  const spans = selectionSpans(
    analysis,
    outlineOf(analysis, DEFAULT_CONFIGURATION),
    before.length - 1,
    before[before.length - 1].length,
  );
  const show = ({ line, column, endLine, endColumn }: TextSpan) =>
    line === endLine ? analysis.lineText(line).slice(column, endColumn) : `lines ${line}-${endLine}`;
  return spans.map(show);
}

describe('a selection grows', () => {
  test('from the word over block, line, operation and tool to the program', () => {
    const text = '%\nO1\nT1 M6 (DRILL D5)\nG0 Z5.\nN50 G81 X|1. Z-3. R2. F100. (FIRST)\nN60 X2.\nG80\nM30\n%';
    expect(grown(text)).toEqual([
      'X1.',
      'G81 X1. Z-3. R2. F100.',
      'N50 G81 X1. Z-3. R2. F100. (FIRST)',
      'lines 4-5',
      'lines 2-8',
      'lines 1-8',
      'lines 0-8',
    ]);
  });

  test('from a remark', () => {
    expect(grown('G0 X1. ( FIR|ST ONE ) Y2.\nM30').slice(0, 3)).toEqual([
      'FIRST ONE',
      '( FIRST ONE )',
      'G0 X1. ( FIRST ONE ) Y2.',
    ]);
    expect(grown('G0 X1. ; FIR|ST\nM30').slice(0, 3)).toEqual(['FIRST', '; FIRST', 'G0 X1. ; FIRST']);
    expect(grown('// FIR|ST\nM30').slice(0, 2)).toEqual(['FIRST', '// FIRST']);
  });

  test('from an expression, a sequence number, blanks and an empty line', () => {
    expect(grown('#1=2\nG0 X[#1 +| 1.] Y2.\nM30')[0]).toBe('X[#1 + 1.]');
    expect(grown('  N1|0 G0 X1.  \nM30')).toEqual(['N10 G0 X1.', '  N10 G0 X1.  ', 'lines 0-1']);
    expect(grown('G0 X1.\n|\nM30')).toEqual(['lines 0-2']);
    expect(grown('|')).toEqual(['']);
  });

  test('each stretch is larger than the one before and around it, wherever the cursor is', () => {
    const lines = [
      '% A',
      '/2 N5 G0X1.Y-.5(A)(B);C',
      ' #101 = [1+2] (X',
      'IF [#101 GT 2] GOTO 5',
      'G1X#101F[2*3] //',
      '',
    ];
    const text = lines.join('\n');
    const analysis = new Analysis(text);
    analysis.run();
    const outline = outlineOf(analysis, DEFAULT_CONFIGURATION);
    lines.forEach((content, line) => {
      for (let column = 0; column <= content.length; column++) {
        const spans = selectionSpans(analysis, outline, line, column);
        expect(spans.length).toBeGreaterThan(0);
        spans.forEach((span, index) => {
          const inside = index === 0 ? { line, column, endLine: line, endColumn: column } : spans[index - 1];
          const starts = span.line < inside.line || (span.line === inside.line && span.column <= inside.column);
          const ends =
            span.endLine > inside.endLine || (span.endLine === inside.endLine && span.endColumn >= inside.endColumn);
          expect(starts && ends, `line ${line} column ${column} step ${index}`).toBe(true);
          if (index > 0) expect(span).not.toEqual(inside);
        });
      }
    });
  });
});

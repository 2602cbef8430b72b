import { expect, it } from 'vitest';
import { lineText } from './lineText.ts';

it('tells the line, the pass where there are several, and the place in a called program’s own file', () => {
  expect(lineText({ line: 7, pass: 1, passes: 1 })).toBe('Line 8');
  expect(lineText({ line: 7, pass: 3, passes: 5 })).toBe('Line 8, pass 3 of 5');
  const origin = { program: 500, file: 500, line: 3 };
  expect(lineText({ line: 7, pass: 1, passes: 1, origin })).toBe('Line 8, in O500 line 4');
});

import { describe, expect, it } from 'vitest';
import { passWords } from './passWords.ts';

describe('passWords', () => {
  it('says nothing of a line that is run once and moves once', () => {
    expect(passWords({ pass: 1, passes: 1, part: 1, parts: 1, line: 6 })).toBeUndefined();
  });

  it('says which pass through a loop, and which move of a cycle', () => {
    expect(passWords({ pass: 3, passes: 5, part: 1, parts: 1, line: 6 })).toBe('pass 3 of 5');
    expect(passWords({ pass: 1, passes: 1, part: 2, parts: 4, line: 6 })).toBe('move 2 of 4');
    expect(passWords({ pass: 2, passes: 2, part: 4, parts: 4, line: 6 })).toBe('pass 2 of 2, move 4 of 4');
  });

  it('says where a subprogram in a file of its own was called', () => {
    const origin = { program: 100, file: 100, line: 2, uri: 'file:///o100.nc' };
    const once = { pass: 1, passes: 1, line: 6 };
    expect(passWords({ ...once, part: 2, parts: 4, origin })).toBe('called in line 7, move 2 of 4');
    expect(passWords({ ...once, part: 1, parts: 1, origin })).toBe('called in line 7');
    expect(passWords({ ...once, part: 1, parts: 1, origin: { program: 100, file: 100, line: 2 } })).toBeUndefined();
  });
});

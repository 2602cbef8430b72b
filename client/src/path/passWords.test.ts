import { describe, expect, it } from 'vitest';
import { passWords } from './passWords.ts';

describe('passWords', () => {
  it('says nothing of a line that is run once and moves once', () => {
    expect(passWords({ pass: 1, passes: 1, part: 1, parts: 1 })).toBeUndefined();
  });

  it('says which pass through a loop, and which move of a cycle', () => {
    expect(passWords({ pass: 3, passes: 5, part: 1, parts: 1 })).toBe('pass 3 of 5');
    expect(passWords({ pass: 1, passes: 1, part: 2, parts: 4 })).toBe('move 2 of 4');
    expect(passWords({ pass: 2, passes: 2, part: 4, parts: 4 })).toBe('pass 2 of 2, move 4 of 4');
  });
});

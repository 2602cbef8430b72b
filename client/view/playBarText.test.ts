import { expect, it } from 'vitest';
import { clockText, stopText } from './playBarText.ts';

it.each([
  [0, '0:00.0'],
  [7.25, '0:07.3'],
  [59.96, '1:00.0'],
  [247.3, '4:07.3'],
  [3723.44, '1:02:03.4'],
  [3599.99, '1:00:00.0'],
])('writes %d seconds as %s', (seconds, text) => {
  expect(clockText(seconds)).toBe(text);
});

it('says why it has stopped', () => {
  const tool = { number: 2, description: '8MM END MILL' };
  expect(
    stopText([
      { kind: 'optional', line: 18, seconds: 4 },
      { kind: 'toolChange', line: 19, seconds: 4, tool },
    ]),
  ).toBe('Optional stop M1 at line 19. Tool change at line 20: T2 8MM END MILL. Play goes on.');
  expect(stopText([{ kind: 'message', line: 4, seconds: 4 }])).toBe(
    'Stop with a message (#3006) at line 5. Play goes on.',
  );
  expect(stopText([])).toBe('');
});

import { describe, expect, test } from 'vitest';
import type { Explanation } from '../../server/src/core/features/explain.ts';
import { explainPage } from './explainPage.ts';

const links = { toLine: (line: number) => `go:${line}`, toggle: 'toggle', follows: true };
const explanation: Explanation = {
  line: 4,
  text: 'G1 X[#1 & 2] (A < B)',
  sentences: [['Back to ', { line: 1 }, '.']],
  words: [{ title: 'G1', text: ['cut'] }],
  modes: [
    { word: 'F200', text: 'feed', line: 2, isOwn: false },
    { word: 'G1', text: 'cut', line: 4, isOwn: true },
    { word: 'G90', text: 'from zero', isOwn: false },
    { word: 'T3', text: 'tool', line: 6, program: 100, isOwn: false },
  ],
  before: 'X0. Y0.',
  after: 'X5. Y0.',
  time: '2 s',
};

describe('the page with a block in words', () => {
  const page = explainPage(explanation, links, 'abc');

  test('text of the program is no markup', () => {
    expect(page).toContain('<pre>G1 X[#1 &amp; 2] (A &lt; B)</pre>');
  });

  test('lines are links, counted from 1', () => {
    expect(page).toContain('<p>Back to <a href="go:1">line 2</a>.</p>');
    expect(page).toContain('<tr><th>F200</th><td>feed</td><td><a href="go:2">line 3</a></td></tr>');
  });

  test('says where what holds comes from', () => {
    expect(page).toContain('<td>cut</td><td>this block</td>');
    expect(page).toContain('<td>from zero</td><td>as the control starts</td>');
    expect(page).toContain('<td>tool</td><td>O100 line 7</td>');
  });

  test('from, to and time; one place where nothing moves', () => {
    expect(page).toMatch(/From<\/th><td>X0\. Y0\.[\s\S]*To<\/th><td>X5\. Y0\.[\s\S]*Takes<\/th><td>2 s/);
    const still = explainPage({ ...explanation, after: 'X0. Y0.', time: '' }, links, 'abc');
    expect(still).toContain('<th>Stands at</th><td>X0. Y0.</td>');
    expect(still).not.toContain('Takes');
  });

  test('runs no script and loads nothing', () => {
    expect(page).toContain(`content="default-src 'none'; style-src 'nonce-abc'"`);
    expect(page).not.toMatch(/<script|src=|http:|https:/);
  });

  test('a link to stay, and one to follow again', () => {
    expect(page).toContain('<a href="toggle">Stay at this block</a>');
    expect(explainPage(explanation, { ...links, follows: false }, 'abc')).toContain('>Follow the cursor</a>');
    expect(explainPage(undefined, links, 'abc')).toContain('Put the cursor into a block');
  });
});

import { describe, expect, it } from 'vitest';
import { DEFAULT_CONFIGURATION } from '../machine/configuration.ts';
import { contextAlone } from './context.ts';
import { generateBlock } from './generate.ts';
import { helicalBore } from './helicalBore.ts';
import { readThread } from './readValues.ts';

const inches = contextAlone(DEFAULT_CONFIGURATION, 'inch');
const said = (raw: Record<string, string>, inProgramUnits: boolean): string[] =>
  generateBlock(helicalBore, raw, inches, { inProgramUnits }).problems.map(({ message }) => message);

describe('messages about values', () => {
  const right = { bore: '1', tool: '0.5', depth: '0.5', speed: '3000', feed: '10' };

  it('name the limit in the unit that the value was typed in', () => {
    expect(said({ ...right, breakout: '-0.1' }, true)).toEqual(['Breakout is -0.1 in; the least is 0 in.']);
    expect(said({ ...right, breakout: '-2.54' }, false)).toEqual(['Breakout is -2.54 mm; the least is 0 mm.']);
  });

  it('take a unit behind a number, a comma for a point, and nothing else', () => {
    expect(said({ ...right, bore: '25.4mm' }, true)).toEqual([]);
    expect(said({ ...right, bore: '1"' }, true)).toEqual([]);
    expect(said({ ...right, bore: 'wide' }, true)).toEqual(['Bore takes a number (in), and "wide" is none.']);
  });

  it('list what a block takes where a name is wrong', () => {
    expect(said({ ...right, boar: '3' }, false)[0]).toMatch(/^There is no parameter boar\. It takes bore, /);
  });
});

describe('threads', () => {
  it.each([
    ['M10', 10, 1.5, 'right'],
    ['21x1.5', 21, 1.5, 'right'],
    ['21 x 1.5 LH', 21, 1.5, 'left'],
    ['1/4-20 UNC', 6.35, 1.27, 'right'],
  ] as const)('%s', (text, diameter, pitch, hand) => {
    expect(readThread(text)).toMatchObject({ diameter, pitch, hand });
  });

  it('that are none are refused', () => {
    for (const text of ['M', '10x6', '0x1', 'x']) expect(readThread(text)).toBeUndefined();
  });
});

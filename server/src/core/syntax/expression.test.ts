/** Expressions: values, order of binding, functions, what profiles change, and what has no result. */
import { describe, expect, it } from 'vitest';
import { type ControlProfile, PROFILES } from '../machine/profile.ts';
import type { ReadingFault } from './block.ts';
import { ExpressionReader } from './expression.ts';
import { Variables } from './variables.ts';

const compute = (text: string, profile: ControlProfile = PROFILES.iso, values: [string | number, number][] = []) => {
  const reader = new ExpressionReader(profile);
  const faults: ReadingFault[] = [];
  reader.begin(text, 0, text.length, new Variables(new Map(values)), faults);
  const value = reader.expression();
  return { value, faults: faults.map(({ message }) => message), rest: text.slice(reader.position) };
};

const report = PROFILES.rs274ngc;

describe('binding', () => {
  it.each([
    ['1+2*3', 7],
    ['[1+2]*3', 9],
    ['10-4-3', 3],
    ['24/4/2', 3],
    ['2**3**2', 64],
    ['2*3**2', 18],
    ['-2**2', 4],
    ['7 MOD 3 * 2', 2],
    ['2*7MOD3', 2],
    ['-7 MOD 3', 2],
    ['1+1 EQ 2', 1],
    ['1 LT 2 EQ 1', 1],
    ['3GE3', 1],
    ['3GT3', 0],
    ['3NE4', 1],
    ['3LE2', 0],
    ['1 OR 0', 1],
    ['1 XOR 1', 0],
    ['[1 GT 2] OR [3 GT 2]', 1],
    ['- - 3', 3],
    ['+3', 3],
  ])('%s is %d', (text, value) => {
    expect(compute(text)).toEqual({ value, faults: [], rest: '' });
  });

  it('AND binds like * on macro controls, like + in the report', () => {
    expect(compute('0 AND 0 + 1').value).toBe(1);
    expect(compute('1 + 0 AND 0', PROFILES.iso).value).toBe(1);
    expect(compute('1 + 0 AND 0', report).value).toBe(0);
  });

  it('comparisons bind last', () => {
    expect(compute('2+1 GT 1*2').value).toBe(1);
    expect(compute('0 OR 1 EQ 1').value).toBe(1);
  });

  it('stops before what cannot belong to it', () => {
    expect(compute('1+2 X5')).toEqual({ value: 3, faults: [], rest: 'X5' });
    expect(compute('5G1')).toEqual({ value: 5, faults: [], rest: 'G1' });
    expect(compute('5M3').rest).toBe('M3');
  });
});

describe('functions', () => {
  it.each([
    ['SIN[30]', 0.5],
    ['SIN[180]', 0],
    ['COS[90]', 0],
    ['COS[60]', 0.5],
    ['TAN[45]', 1],
    ['ASIN[.5]', 30],
    ['ACOS[.5]', 60],
    ['ATAN[1]', 45],
    ['ATAN[1]/[1]', 45],
    ['ATAN[1]/[-1]', 135],
    ['ATAN[-1]/[-1]', -135],
    ['ATAN[0]/[-1]', 180],
    ['SQRT[16]', 4],
    ['ABS[-3.5]', 3.5],
    ['LN[EXP[2]]', 2],
    ['sqrt [ 9 ]', 3],
    ['SIN[30]*2+COS[60]', 1.5],
    ['ROUND[2.5]', 3],
    ['ROUND[-2.5]', -3],
    ['ROUND[2.4]', 2],
  ])('%s is %d', (text, value) => {
    const result = compute(text);
    expect(result.faults).toEqual([]);
    expect(result.value).toBeCloseTo(value, 12);
  });

  it.each([
    ['FIX[2.7]', 2, 2],
    ['FIX[-2.7]', -2, -3],
    ['FUP[2.2]', 3, 3],
    ['FUP[-2.2]', -3, -2],
  ])('%s is %d toward and away from zero, %d as floor and ceiling', (text, towardZero, floorCeiling) => {
    expect(compute(text).value).toBe(towardZero);
    expect(compute(text, report).value).toBe(floorCeiling);
  });

  it.each([
    ['SQRT[-1]', 'sqrt'],
    ['1/0', 'zero-division'],
    ['5 MOD 0', 'zero-division'],
    ['TAN[90]', 'zero-division'],
    ['ASIN[1.01]', 'asin'],
    ['ACOS[-1.01]', 'acos'],
    ['LN[0]', 'ln'],
    ['[-8]**.5', 'power'],
  ])('%s has no result', (text, message) => {
    expect(compute(text)).toMatchObject({ value: Number.NaN, faults: [message] });
  });

  it('a value that is not known has no result and no complaint', () => {
    expect(compute('SQRT[#5001]+1/#5002')).toMatchObject({ value: Number.NaN, faults: [] });
    expect(compute('#5001 EQ 1')).toMatchObject({ value: Number.NaN, faults: [] });
  });
});

describe('variables', () => {
  it('by number, by a computed number, by name', () => {
    expect(
      compute('#1+##2+#[1+1]', PROFILES.iso, [
        [1, 10],
        [2, 1],
      ]).value,
    ).toBe(21);
    expect(compute('#<a b>*2', PROFILES.iso, [['ab', 4]]).value).toBe(8);
    expect(compute('#1.2', PROFILES.iso, [[1, 3]]).value).toBe(3);
  });

  it('never set: empty, which is not zero, or zero by profile', () => {
    expect(compute('#1 EQ #0').value).toBe(1);
    expect(compute('#1 EQ 0').value).toBe(0);
    expect(compute('#1 NE #0', PROFILES.iso, [[1, 0]]).value).toBe(1);
    expect(compute('#1+1').value).toBe(1);
    expect(compute('#1 EQ 0', report).value).toBe(1);
  });
});

describe('mistakes', () => {
  it.each([
    ['1+', 'expression-malformed'],
    ['[1+2', 'bracket-missing'],
    ['SIN 30', 'unknown-function'],
    ['FOO[1]', 'unknown-function'],
    ['1..2', 'number-malformed'],
    ['#', 'expression-malformed'],
    ['#<open', 'expression-malformed'],
    ['1E5', 'number-malformed'],
    ['ATAN[1]/2', 'expression-malformed'],
    ['[[[1+]*2]+3]', 'expression-malformed'],
  ])('%s is told once', (text, message) => {
    expect(compute(text)).toMatchObject({ value: Number.NaN, faults: [message] });
  });
});

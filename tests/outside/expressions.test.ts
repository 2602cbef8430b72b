/**
 * Random expressions, computed by the reader and by the library mathjs (source: https://mathjs.org, version in
 * package-lock.json), and lengths in inches against its unit conversion.
 */
import fc from 'fast-check';
import { all, create } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { PROFILES } from '../../server/src/core/machine/profile.ts';
import type { ReadingFault } from '../../server/src/core/syntax/block.ts';
import { ExpressionReader } from '../../server/src/core/syntax/expression.ts';
import { Variables } from '../../server/src/core/syntax/variables.ts';
import { endPoint } from '../harness/path.ts';

const math = create(all);

/** The same expression in the program's writing and in mathjs's. */
interface Pair {
  readonly own: string;
  readonly theirs: string;
}

const compute = (text: string): { value: number; faults: ReadingFault[]; rest: number } => {
  const reader = new ExpressionReader(PROFILES.iso);
  const faults: ReadingFault[] = [];
  reader.begin(text, 0, text.length, new Variables(new Map([[1, 2.5]])), faults);
  const value = reader.expression();
  return { value, faults, rest: text.length - reader.position };
};

const number = fc.integer({ min: 1, max: 99_999 }).map((n): Pair => {
  const text = (n / 1000).toFixed(3);
  return { own: text, theirs: text };
});

const variable = fc.constant<Pair>({ own: '#1', theirs: '2.5' });

const FUNCTIONS: readonly [string, (inner: string) => string][] = [
  ['SIN', (inner) => `sin((log(abs(${inner}) + 1) * 40) deg)`],
  ['COS', (inner) => `cos((log(abs(${inner}) + 1) * 40) deg)`],
  ['ATAN', (inner) => `(atan(${inner}) * 180 / pi)`],
  ['ABS', (inner) => `abs(${inner})`],
  ['SQRT', (inner) => `sqrt(abs(${inner}))`],
  ['LN', (inner) => `log(abs(${inner}) + 1)`],
];

const ownCall = (name: string, inner: string): string => {
  // Angles of a few turns: the sine of a huge one hangs on the last bits of what goes in.
  if (name === 'SIN' || name === 'COS') return `${name}[LN[ABS[${inner}]+1]*40]`;
  // A single ATAN before a / would be taken for the form with two.
  if (name === 'ATAN') return `[ATAN[${inner}]]`;
  if (name === 'SQRT') return `SQRT[ABS[${inner}]]`;
  return name === 'LN' ? `LN[ABS[${inner}]+1]` : `${name}[${inner}]`;
};

const expression: fc.Arbitrary<Pair> = fc.letrec<{ sum: Pair; product: Pair; power: Pair; operand: Pair }>((tie) => {
  const chain = (item: fc.Arbitrary<Pair>, operators: readonly (readonly [string, string])[]) =>
    fc.tuple(item, fc.array(fc.tuple(fc.constantFrom(...operators), item), { maxLength: 2 })).map(([first, rest]) =>
      rest.reduce<Pair>(
        (pair, [[own, theirs], next]) => ({
          own: `${pair.own}${own}${next.own}`,
          theirs: `${pair.theirs}${theirs}${next.theirs}`,
        }),
        first,
      ),
    );
  const sum = chain(tie('product'), [
    ['+', '+'],
    [' - ', '-'],
  ]);
  // MOD is left out of the chains: mathjs binds it elsewhere; it has a test of its own.
  const product = chain(tie('power'), [
    ['*', '*'],
    [' / ', '/'],
  ]);
  const power = fc.oneof(
    { weight: 5, arbitrary: tie('operand') },
    {
      weight: 1,
      arbitrary: fc
        .tuple(number, fc.integer({ min: 0, max: 3 }))
        .map(([base, exponent]): Pair => ({ own: `${base.own}**${exponent}`, theirs: `(${base.theirs}^${exponent})` })),
    },
  );
  const operand = fc.oneof(
    { maxDepth: 3, depthSize: 'small', withCrossShrink: true },
    number,
    variable,
    tie('sum').map((pair): Pair => ({ own: `[${pair.own}]`, theirs: `(${pair.theirs})` })),
    tie('sum').map((pair): Pair => ({ own: `-[${pair.own}]`, theirs: `(-(${pair.theirs}))` })),
    fc
      .tuple(fc.constantFrom(...FUNCTIONS), tie('sum'))
      .map(([[name, theirs], pair]): Pair => ({ own: ownCall(name, pair.own), theirs: theirs(pair.theirs) })),
  );
  return { sum, product, power, operand };
}).sum;

describe('expressions', () => {
  it('have the values of mathjs', () => {
    let compared = 0;
    fc.assert(
      fc.property(expression, ({ own, theirs }) => {
        const expected = Number(math.evaluate(theirs));
        const { value, faults, rest } = compute(own);
        if (!Number.isFinite(expected) || Math.abs(expected) > 1e9) return;
        // mathjs goes on with infinity where a control alarms.
        if (faults.some(({ message }) => message === 'zero-division')) return;
        compared++;
        expect(rest).toBe(0);
        expect(faults).toEqual([]);
        expect(Math.abs(value - expected)).toBeLessThanOrEqual(1e-7 * Math.max(1, Math.abs(expected)));
      }),
      { numRuns: 2000, seed: 30 },
    );
    expect(compared).toBeGreaterThan(1000);
  });

  it('FIX and FUP as mathjs rounds', () => {
    fc.assert(
      fc.property(fc.integer({ min: -99_999, max: 99_999 }), (thousandths) => {
        const inner = `${thousandths / 1000}`;
        expect(compute(`FIX[${inner}]`).value + 0).toBe(Number(math.evaluate(`fix(${inner})`)) + 0);
        const away = thousandths < 0 ? math.evaluate(`floor(${inner})`) : math.evaluate(`ceil(${inner})`);
        expect(compute(`FUP[${inner}]`).value + 0).toBe(Number(away) + 0);
      }),
      { numRuns: 500, seed: 31 },
    );
  });

  it('MOD, ATAN of two, and comparisons', () => {
    const signed = fc.integer({ min: -9999, max: 9999 }).map((n) => n / 100);
    fc.assert(
      fc.property(signed, signed, (a, b) => {
        fc.pre(b !== 0);
        // Whole numbers: the remainder of others hangs on the last bit.
        const [whole, divisor] = [Math.round(a * 100), Math.round(b * 100)];
        expect(compute(`[${whole}] MOD [${divisor}]`).value).toBe(math.mod(whole, divisor));
        expect(compute(`ATAN[${a}]/[${b}]`).value).toBeCloseTo((math.atan2(a, b) * 180) / Math.PI, 9);
        for (const [own, theirs] of [
          ['LT', '<'],
          ['LE', '<='],
          ['GT', '>'],
          ['GE', '>='],
          ['EQ', '=='],
          ['NE', '!='],
        ]) {
          expect(compute(`[${a}] ${own} [${b}]`).value).toBe(Number(math.evaluate(`${a} ${theirs} ${b}`)));
        }
      }),
      { numRuns: 500, seed: 32 },
    );
  });
});

describe('inch and millimetre', () => {
  it('lengths in inches are those of mathjs in millimetres', () => {
    fc.assert(
      fc.property(fc.integer({ min: -999_999, max: 999_999 }), (tenThousandths) => {
        const text = (tenThousandths / 10_000).toFixed(4);
        const expected = math.unit(Number(text), 'inch').toNumber('mm');
        expect(endPoint(`G20 G0 X${text}`)[0]).toBeCloseTo(expected, 5);
        expect(endPoint(`G21 G0 X${text}`)[0]).toBeCloseTo(Number(text), 6);
      }),
      { numRuns: 300, seed: 33 },
    );
  });
});

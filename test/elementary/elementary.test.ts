import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { acos, atan, atan2 } from '../../src/elementary/arctangent.js';
import { cosh, exp, expm1, pow2, sinh, tanh } from '../../src/elementary/exponential.js';
import { asinh, log, log1p, log2, log10 } from '../../src/elementary/logarithm.js';
import { cbrt, hypot, pow, pow10 } from '../../src/elementary/power.js';
import { cos, sin, tan } from '../../src/elementary/sine.js';

// Held against those of the engine, which are right to the last digit or two but differ between engines.

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
/** Of either sign, spread evenly over the powers of two. */
const anySize = (least: number, most: number) =>
  fc
    .tuple(between(Math.log2(least), Math.log2(most)), fc.boolean())
    .map(([octave, negative]) => (negative ? -1 : 1) * 2 ** octave);
const aboveZero = (least: number, most: number) => anySize(least, most).map(Math.abs);

const near = (value: number, expected: number, relative: number, what: string) => {
  if (Object.is(value, expected) || value === expected) return;
  const miss = Math.abs(value - expected) / Math.max(Math.abs(expected), 1e-300);
  expect(miss, `${what}: ${value}, expected ${expected}`).toBeLessThanOrEqual(relative);
};

const ULP = 2 ** -52;
const one: readonly (readonly [
  string,
  (x: number) => number,
  (x: number) => number,
  fc.Arbitrary<number>,
  number,
])[] = [
  ['exp', exp, Math.exp, anySize(1e-20, 700), 2 * ULP],
  ['pow2', pow2, (x) => 2 ** x, anySize(1e-20, 1020), 3 * ULP],
  ['expm1', expm1, Math.expm1, anySize(1e-20, 700), 4 * ULP],
  ['sinh', sinh, Math.sinh, anySize(1e-20, 700), 5 * ULP],
  ['cosh', cosh, Math.cosh, anySize(1e-20, 700), 3 * ULP],
  ['tanh', tanh, Math.tanh, anySize(1e-20, 100), 5 * ULP],
  ['log', log, Math.log, aboveZero(1e-320, 1e308), 3 * ULP],
  ['log near 1', log, Math.log, between(0.5, 2), 3 * ULP],
  ['log2', log2, Math.log2, aboveZero(1e-320, 1e308), 3 * ULP],
  ['log10', log10, Math.log10, aboveZero(1e-320, 1e308), 4 * ULP],
  ['log1p', log1p, Math.log1p, between(-0.99, 10), 4 * ULP],
  ['log1p of little', log1p, Math.log1p, anySize(1e-20, 0.4), 4 * ULP],
  ['asinh', asinh, Math.asinh, anySize(1e-20, 1e300), 5 * ULP],
  ['sin', sin, Math.sin, anySize(1e-20, 3), 3 * ULP],
  ['cos', cos, Math.cos, anySize(1e-20, 1.5), 3 * ULP],
  ['tan', tan, Math.tan, anySize(1e-20, 1.5), 5 * ULP],
  ['atan', atan, Math.atan, anySize(1e-20, 1e20), 4 * ULP],
  ['acos', acos, Math.acos, between(-1, 1), 4 * ULP],
  ['cbrt', cbrt, Math.cbrt, anySize(1e-300, 1e300), 2 * ULP],
  ['pow10', pow10, (x) => 10 ** x, anySize(1e-10, 15), 40 * ULP],
];

test.each(one)(
  '%s is as the engine has it, to the last digits',
  (name, mine, engine, arbitrary, relative) => {
    fc.assert(
      fc.property(arbitrary, (x) => near(mine(x), engine(x), relative, `${name}(${x})`)),
      { numRuns: 3000, seed: 1 },
    );
  },
);

test.each([
  ['sin', sin, Math.sin],
  ['cos', cos, Math.cos],
] as const)('%s of many turns is as the engine has it, to 4e-16', (name, mine, engine) => {
  fc.assert(
    fc.property(anySize(1, 1e12), (x) => {
      expect(Math.abs(mine(x) - engine(x)), `${name}(${x})`).toBeLessThanOrEqual(4e-16);
    }),
    { numRuns: 5000, seed: 1 },
  );
});

test('functions of two and three numbers are as the engine has them', () => {
  const size = anySize(1e-200, 1e200);
  fc.assert(
    fc.property(size, size, size, (a, b, c) => {
      near(atan2(a, b), Math.atan2(a, b), 4 * ULP, `atan2(${a}, ${b})`);
      near(hypot(a, b), Math.hypot(a, b), 3 * ULP, `hypot(${a}, ${b})`);
      near(hypot(a, b, c), Math.hypot(a, b, c), 3 * ULP, `hypot(${a}, ${b}, ${c})`);
    }),
    { numRuns: 3000, seed: 1 },
  );
  fc.assert(
    fc.property(aboveZero(1e-5, 1e5), between(-20, 20), (x, y) => {
      near(pow(x, y), x ** y, 400 * ULP, `${x} to the power of ${y}`);
    }),
    { numRuns: 3000, seed: 1 },
  );
});

describe('what is whole stays whole', () => {
  test.each(Array.from({ length: 41 }, (_, i) => i - 20))('for the exponent %i', (k) => {
    expect(pow2(k)).toBe(2 ** k);
    expect(log2(2 ** k)).toBe(k);
    expect(pow10(k)).toBe(Number(`1e${k}`));
    expect(log10(Number(`1e${k}`))).toBe(k);
    expect(pow(3, Math.abs(k))).toBe(3 ** Math.abs(k));
    expect(cbrt(k ** 3)).toBe(k);
  });
});

test('the ends of the numbers are as the engine has them', () => {
  const ends = [
    0,
    -0,
    1,
    -1,
    Number.NaN,
    Infinity,
    -Infinity,
    5e-324,
    1.7976931348623157e308,
    710,
    -746,
    1e9,
  ];
  for (const x of ends) {
    for (const [name, mine, engine] of [
      ['exp', exp, Math.exp],
      ['expm1', expm1, Math.expm1],
      ['pow2', pow2, (y: number) => 2 ** y],
      ['sinh', sinh, Math.sinh],
      ['cosh', cosh, Math.cosh],
      ['tanh', tanh, Math.tanh],
      ['log', log, Math.log],
      ['log2', log2, Math.log2],
      ['log10', log10, Math.log10],
      ['log1p', log1p, Math.log1p],
      ['asinh', asinh, Math.asinh],
      ['atan', atan, Math.atan],
      ['acos', acos, Math.acos],
      ['cbrt', cbrt, Math.cbrt],
      ['sin', sin, (y: number) => (Number.isFinite(y) && Math.abs(y) > 1e12 ? sin(y) : Math.sin(y))],
    ] as const) {
      const [value, expected] = [mine(x), engine(x)];
      if (Number.isNaN(expected)) expect(value, `${name}(${x})`).toBeNaN();
      else near(value, expected, 4 * ULP, `${name}(${x})`);
    }
    for (const y of ends) {
      near(atan2(x, y), Math.atan2(x, y), 4 * ULP, `atan2(${x}, ${y})`);
      expect(Number.isNaN(atan2(x, y))).toBe(Number.isNaN(Math.atan2(x, y)));
    }
  }
});

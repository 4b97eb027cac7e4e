import fc from 'fast-check';
import { all, type BigNumber, create } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { biquadResponse } from '../../src/filter/biquadResponse.js';
import { cookbookCoefficients } from '../../src/filter/cookbookCoefficients.js';
import type { Filter } from '../../src/filter/filter.js';
import { filterResponseDb } from '../../src/filter/filterResponseDb.js';
import { filter, SEED, sampleRate } from '../filter/filterArbitrary.js';

/**
 * First witness: the formulas of the W3C Group Note "Audio EQ Cookbook" (https://www.w3.org/TR/audio-eq-cookbook/),
 * written out as they stand there and evaluated by mathjs in 64 digits. Nothing of `src/` is used on this side.
 */
const math = create(all ?? {}, { number: 'BigNumber', precision: 64 });
const ONE = math.bignumber(1);
const PI = math.acos(math.bignumber(-1)) as BigNumber;
const TWO_100 = math.bignumber((1n << 100n).toString());
/** The double itself; mathjs would take its shortest decimal, up to half a unit of the last place off. */
const exact = (x: number): BigNumber => math.bignumber(BigInt(x * 2 ** 100).toString()).div(TWO_100);
const cos = (x: BigNumber): BigNumber => math.cos(x) as BigNumber;
const sin = (x: BigNumber): BigNumber => math.sin(x) as BigNumber;

interface NoteBiquad {
  readonly b: readonly [BigNumber, BigNumber, BigNumber];
  readonly a: readonly [BigNumber, BigNumber, BigNumber];
}

function note(f: Filter, sampleRateHz: number): NoteBiquad {
  const A = math.bignumber(10).pow(exact(f.gainDb).div(40));
  const w0 = PI.mul(2).mul(exact(f.frequencyHz)).div(sampleRateHz);
  const cosW0 = cos(w0);
  const alpha = sin(w0).div(exact(f.q).mul(2));
  if (f.type === 'peaking') {
    return {
      b: [ONE.add(alpha.mul(A)), cosW0.mul(-2), ONE.sub(alpha.mul(A))],
      a: [ONE.add(alpha.div(A)), cosW0.mul(-2), ONE.sub(alpha.div(A))],
    };
  }
  const plus = A.add(1);
  const minus = A.sub(1);
  const root = A.sqrt().mul(2).mul(alpha);
  if (f.type === 'lowShelf') {
    return {
      b: [
        A.mul(plus.sub(minus.mul(cosW0)).add(root)),
        A.mul(2).mul(minus.sub(plus.mul(cosW0))),
        A.mul(plus.sub(minus.mul(cosW0)).sub(root)),
      ],
      a: [
        plus.add(minus.mul(cosW0)).add(root),
        minus.add(plus.mul(cosW0)).mul(-2),
        plus.add(minus.mul(cosW0)).sub(root),
      ],
    };
  }
  return {
    b: [
      A.mul(plus.add(minus.mul(cosW0)).add(root)),
      A.mul(-2).mul(minus.add(plus.mul(cosW0))),
      A.mul(plus.add(minus.mul(cosW0)).sub(root)),
    ],
    a: [
      plus.sub(minus.mul(cosW0)).add(root),
      minus.sub(plus.mul(cosW0)).mul(2),
      plus.sub(minus.mul(cosW0)).sub(root),
    ],
  };
}

function noteLevelDb({ b, a }: NoteBiquad, sampleRateHz: number, hz: number): number {
  const w = PI.mul(2).mul(exact(hz)).div(sampleRateHz);
  const cos1 = cos(w);
  const sin1 = sin(w);
  const cos2 = cos1.mul(cos1).mul(2).sub(1);
  const sin2 = sin1.mul(cos1).mul(2);
  const power = ([x0, x1, x2]: NoteBiquad['b']): BigNumber => {
    const re = x0.add(x1.mul(cos1)).add(x2.mul(cos2));
    const im = x1.mul(sin1).add(x2.mul(sin2));
    return re.mul(re).add(im.mul(im));
  };
  return power(b).div(power(a)).log(10).mul(10).toNumber();
}

/** 0 Hz, half the sample rate, the filter's own frequency, its neighbourhood, and far from it. */
function probes(f: Filter, sampleRateHz: number): Float64Array {
  const half = sampleRateHz / 2;
  const around = [0.01, 0.5, 0.97, 1, 1.2, 7].map((ratio) => f.frequencyHz * ratio);
  return Float64Array.from([0, ...around.filter((hz) => hz < half), half]);
}

describe("the W3C Note's formulas, evaluated in 64 digits", () => {
  it('agree with the closed form to 1e-9 dB everywhere', () => {
    fc.assert(
      fc.property(filter({ maxQ: 40 }), sampleRate, (f, fs) => {
        const frequencyHz = probes(f, fs);
        const ours = filterResponseDb(f, fs, frequencyHz);
        const theirs = note(f, fs);
        frequencyHz.forEach((hz, i) => {
          const gap = Math.abs(ours[i]! - noteLevelDb(theirs, fs, hz));
          expect(gap, `${JSON.stringify(f)} at ${hz} Hz`).toBeLessThan(1e-9);
        });
      }),
      { ...SEED, numRuns: 80 },
    );
  });

  it('agree with the coefficients to 1e-14 relative to their size', () => {
    fc.assert(
      fc.property(filter({ maxQ: 40 }), sampleRate, (f, fs) => {
        const { b, a } = note(f, fs);
        const [b0, b1, b2, a1, a2] = [...b, a[1], a[2]].map((x) => x.div(a[0]).toNumber());
        const ours = cookbookCoefficients(f, fs);
        // Some ten roundings of 1.1e-16, of terms as large as the largest coefficient.
        const size = Math.max(1, Math.abs(b0!), Math.abs(b1!));
        expect(Math.abs(ours.b0 - b0!)).toBeLessThan(1e-14 * size);
        expect(Math.abs(ours.b1 - b1!)).toBeLessThan(1e-14 * size);
        expect(Math.abs(ours.b2 - b2!)).toBeLessThan(1e-14 * size);
        expect(Math.abs(ours.a1 - a1!)).toBeLessThan(1e-14 * size);
        expect(Math.abs(ours.a2 - a2!)).toBeLessThan(1e-14 * size);
      }),
      { ...SEED, numRuns: 100 },
    );
  });

  it('agree with the response of our double-precision coefficients to 1e-9 dB from 100 Hz up at 48 kHz', () => {
    fc.assert(
      fc.property(filter({ maxQ: 10 }), (random) => {
        const f = { ...random, frequencyHz: Math.max(100, random.frequencyHz) };
        const frequencyHz = probes(f, 48_000);
        const { levelDb } = biquadResponse(cookbookCoefficients(f, 48_000), 48_000, frequencyHz);
        const theirs = note(f, 48_000);
        frequencyHz.forEach((hz, i) => {
          expect(Math.abs(levelDb[i]! - noteLevelDb(theirs, 48_000, hz))).toBeLessThan(1e-9);
        });
      }),
      { ...SEED, numRuns: 40 },
    );
  });
});

import { all, type BigNumber, create } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { biquadResponse } from '../../src/filter/biquadResponse.js';
import { cookbookCoefficients } from '../../src/filter/cookbookCoefficients.js';
import type { BiquadCoefficients, Filter } from '../../src/filter/filter.js';

const math = create(all ?? {}, { number: 'BigNumber', precision: 64 });
const PI = math.acos(math.bignumber(-1)) as BigNumber;
const TWO_100 = math.bignumber((1n << 100n).toString());
/** The double itself; mathjs would take its shortest decimal, up to half a unit of the last place off. */
const big = (x: number) => math.bignumber(BigInt(x * 2 ** 100).toString()).div(TWO_100);

/** H(e^(jω)) of exactly these doubles, by the definition, in 64 digits. */
function directly(
  c: BiquadCoefficients,
  sampleRateHz: number,
  hz: number,
): { levelDb: number; phaseRad: number } {
  const w = PI.mul(2).mul(big(hz)).div(big(sampleRateHz));
  const cos1 = math.cos(w) as BigNumber;
  const sin1 = math.sin(w) as BigNumber;
  const cos2 = cos1.mul(cos1).mul(2).sub(1);
  const sin2 = sin1.mul(cos1).mul(2);
  const re = (x0: number, x1: number, x2: number) =>
    big(x0)
      .add(cos1.mul(big(x1)))
      .add(cos2.mul(big(x2)));
  const im = (x1: number, x2: number) => sin1.mul(big(-x1)).sub(sin2.mul(big(x2)));
  const [bRe, bIm] = [re(c.b0, c.b1, c.b2), im(c.b1, c.b2)];
  const [aRe, aIm] = [re(1, c.a1, c.a2), im(c.a1, c.a2)];
  const power = bRe
    .mul(bRe)
    .add(bIm.mul(bIm))
    .div(aRe.mul(aRe).add(aIm.mul(aIm)));
  return {
    levelDb: power.log(10).mul(10).toNumber(),
    phaseRad: Math.atan2(
      bIm.mul(aRe).sub(bRe.mul(aIm)).toNumber(),
      bRe.mul(aRe).add(bIm.mul(aIm)).toNumber(),
    ),
  };
}

describe('biquadResponse', () => {
  it('gives level and phase of the very coefficients handed in, at low frequencies and high sample rates too', () => {
    const filters: Filter[] = [
      { type: 'peaking', frequencyHz: 12, gainDb: 9, q: 5 },
      { type: 'lowShelf', frequencyHz: 25, gainDb: -8, q: 0.8 },
      { type: 'highShelf', frequencyHz: 9000, gainDb: 6, q: 1.4 },
      { type: 'peaking', frequencyHz: 21_500, gainDb: -12, q: 2 },
    ];
    for (const sampleRateHz of [44_100, 192_000]) {
      for (const f of filters) {
        const c = cookbookCoefficients(f, sampleRateHz);
        const frequencyHz = Float64Array.of(
          0,
          3,
          12.1,
          40,
          700,
          9000,
          21_400,
          sampleRateHz / 2 - 1,
          sampleRateHz / 2,
        );
        const { levelDb, phaseRad } = biquadResponse(c, sampleRateHz, frequencyHz);
        frequencyHz.forEach((hz, i) => {
          const expected = directly(c, sampleRateHz, hz);
          // Evaluation adds a few roundings of its own and nothing that grows as f falls.
          expect(Math.abs(levelDb[i]! - expected.levelDb)).toBeLessThan(1e-12);
          expect(Math.abs(phaseRad[i]! - expected.phaseRad)).toBeLessThan(1e-12);
        });
      }
    }
  });

  it('has no phase at the ends and at the centre of a peaking filter, and leads below the centre of a boost', () => {
    const c = cookbookCoefficients({ type: 'peaking', frequencyHz: 1000, gainDb: 6, q: 2 }, 48_000);
    const { phaseRad } = biquadResponse(c, 48_000, Float64Array.of(0, 700, 1000, 1400, 24_000));
    expect(phaseRad[0]).toBeCloseTo(0, 12);
    expect(phaseRad[2]).toBeCloseTo(0, 10);
    expect(phaseRad[4]).toBeCloseTo(0, 12);
    expect(phaseRad[1]).toBeGreaterThan(0.2);
    expect(phaseRad[3]).toBeLessThan(-0.2);
  });

  it('is −Infinity dB at a zero on the unit circle', () => {
    const sum = { b0: 0.5, b1: 0.5, b2: 0, a1: 0, a2: 0 };
    const { levelDb } = biquadResponse(sum, 48_000, Float64Array.of(0, 24_000));
    expect(levelDb[0]).toBeCloseTo(0, 12);
    expect(levelDb[1]).toBe(Number.NEGATIVE_INFINITY);
  });

  it('turns the phase of a delay of one sample by −ω', () => {
    const delay = { b0: 0, b1: 1, b2: 0, a1: 0, a2: 0 };
    const { levelDb, phaseRad } = biquadResponse(delay, 48_000, Float64Array.of(1000, 6000, 20_000));
    expect([...levelDb].every((level) => Math.abs(level) < 1e-12)).toBe(true);
    expect(phaseRad[0]).toBeCloseTo((-2 * Math.PI * 1000) / 48_000, 12);
    expect(phaseRad[1]).toBeCloseTo(-Math.PI / 4, 12);
    expect(phaseRad[2]).toBeCloseTo((-2 * Math.PI * 20_000) / 48_000, 12);
  });
});

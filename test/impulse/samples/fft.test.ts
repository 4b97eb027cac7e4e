import { complex, fft, ifft } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { inverseRealFft, powerOfTwoAtLeast, realFft } from '../../../src/impulse/samples/fft.js';

const signal = (n: number) => Float64Array.from({ length: n }, (_, i) => Math.sin(i * i + 1) + 0.2 * i);
const greatest = (values: Float64Array) => values.reduce((most, v) => Math.max(most, Math.abs(v)), 0);

describe('realFft', () => {
  // mathjs's transform is written independently of fft.js; both err by a few units of rounding times √n.
  it.each([4, 8, 64, 512, 2048])('agrees with the transform of mathjs for %i samples', (n) => {
    const x = signal(n);
    const { bins } = realFft(x, n);
    const reference = fft(Array.from(x)) as unknown as { re: number; im: number }[];
    const scale = greatest(bins);
    for (let k = 0; k <= n / 2; k++) {
      const { re, im } = complex(reference[k] as never);
      expect(Math.abs(bins[2 * k]! - re) / scale).toBeLessThan(1e-13);
      expect(Math.abs(bins[2 * k + 1]! - im) / scale).toBeLessThan(1e-13);
    }
  });

  it('pads a shorter signal with zeros', () => {
    const padded = new Float64Array(64);
    padded.set(signal(40));
    expect(realFft(signal(40), 64).bins).toEqual(realFft(padded, 64).bins);
  });

  it('refuses sizes that are no power of two and signals that do not fit', () => {
    expect(() => realFft(signal(10), 12)).toThrow(RangeError);
    expect(() => realFft(signal(10), 2)).toThrow(RangeError);
    expect(() => realFft(signal(65), 64)).toThrow(RangeError);
  });

  it('is undone by inverseRealFft', () => {
    for (const n of [4, 16, 1024, 1 << 18]) {
      const x = signal(n);
      const back = inverseRealFft(realFft(x, n));
      expect(greatest(back.map((v, i) => v - x[i]!)) / greatest(x)).toBeLessThan(1e-14);
    }
  });
});

describe('inverseRealFft', () => {
  it('agrees with the inverse transform of mathjs', () => {
    const n = 32;
    const bins = Float64Array.from({ length: n + 2 }, (_, i) => Math.cos(3 * i + 0.5));
    bins[1] = 0;
    bins[n + 1] = 0;
    const whole = Array.from({ length: n }, (_, k) =>
      k <= n / 2
        ? complex(bins[2 * k]!, bins[2 * k + 1]!)
        : complex(bins[2 * (n - k)]!, -bins[2 * (n - k) + 1]!),
    );
    const reference = ifft(whole as never) as unknown as { re: number; im: number }[];
    const result = inverseRealFft({ size: n, bins });
    result.forEach((value, i) => {
      expect(Math.abs(value - complex(reference[i] as never).re)).toBeLessThan(1e-14);
    });
  });
});

describe('powerOfTwoAtLeast', () => {
  it('gives the next power of two, the number itself where it is one, and never less than 4', () => {
    expect([1, 4, 5, 1024, 1025].map(powerOfTwoAtLeast)).toEqual([4, 4, 8, 1024, 2048]);
  });
});

import { describe, expect, it } from 'vitest';
import { laterSound } from '../../../src/impulse/arrivals/laterSound.js';
import { echoic, pass, peaking } from '../digitalSystem.js';

const rate = 48_000;
const arrivalS = 0.06;
const speaker = [pass('high', 60, 0.7, rate), pass('low', 18_000, 0.7, rate)];

const levelAt = (impulse: Parameters<typeof laterSound>[0], hz: number) => {
  const { frequencyHz, levelDb } = laterSound(impulse, arrivalS);
  const distance = (f: number) => Math.abs(Math.log(f / hz));
  const nearest = frequencyHz.reduce(
    (best, f, i) => (distance(f) < distance(frequencyHz[best]!) ? i : best),
    0,
  );
  return levelDb[nearest]!;
};

describe('laterSound', () => {
  it.each([
    [300, 1.5],
    [300, 4.5],
    [1000, 2.5],
    [1000, 7.5],
    [4000, 3.5],
  ])('shows an echo of −9 dB as such at %d Hz where it comes %d periods late', (hz, periods) => {
    const impulse = echoic(speaker, rate, arrivalS, [{ delayS: periods / hz, levelDb: -9 }]);
    expect(Math.abs(levelAt(impulse, hz) + 9)).toBeLessThan(1);
  });

  it('has less of an echo that comes sooner, or of a speaker without one, than the least dip worth a verdict needs', () => {
    const leastDb = 20 * Math.log10(1 - 10 ** (-1.2 / 20));
    expect(levelAt(echoic(speaker, rate, arrivalS, []), 1000)).toBeLessThan(leastDb);
    const soon = echoic(speaker, rate, arrivalS, [{ delayS: 0.4e-3, levelDb: -9 }]);
    expect(levelAt(soon, 1000)).toBeLessThan(leastDb);
  });

  it.each([1, 2, 3, 5, 8, 12, 20])(
    'is at least 9 dB below what an echo would need where the speaker has a dip of its own of Q %d',
    (q) => {
      const neededDb = 20 * Math.log10(1 - 10 ** (-6 / 20));
      const impulse = echoic([...speaker, peaking(1000, -6, q, rate)], rate, arrivalS, []);
      expect(levelAt(impulse, 1000) - neededDb).toBeLessThan(-9);
    },
  );

  it('tells of silence as such', () => {
    const { levelDb } = laterSound({ samples: new Float64Array(4800), sampleRateHz: rate }, 0.01);
    expect(levelDb.every((db) => db === -120)).toBe(true);
  });
});

import { expect, test } from 'vitest';
import type { Setup } from '../../src/acoustics/setup.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { diagnose } from '../../src/diagnosis/diagnose.js';

const C = 343.2;

/**
 * Drivers of fourth order in opposite polarity, (1 − x⁴)/(1 + x⁴) (Linkwitz, J. Audio Eng. Soc. 24 (1976) 2–8), over a
 * desk and before a wall (image sources, Allen and Berkley, J. Acoust. Soc. Am. 65 (1979) 943–950).
 */
function measured(crossoverHz: number, turnedOver: boolean) {
  const frequencyHz = logGrid(20, 20000);
  const levelDb = frequencyHz.map((hz) => {
    const x = (hz / crossoverHz) ** 4;
    const own = turnedOver ? (1 - x) / (1 + x) : 1;
    let re = 1;
    let im = 0;
    for (const [hs, hm, cornerHz] of [
      [0.3, 1.2, 600],
      [0.2, 0.3, 4000],
    ] as const) {
      const detourM = Math.sqrt(0.81 + 4 * hs * hm) - 0.9;
      const size = (0.8 * 0.9) / (0.9 + detourM) / Math.sqrt(1 + (hz / cornerHz) ** 2);
      const turn = (-2 * Math.PI * hz * detourM) / C;
      re += size * Math.cos(turn);
      im += size * Math.sin(turn);
    }
    return 85 + 20 * Math.log10(Math.hypot(own * re, own * im) + 0.01);
  });
  return { frequencyHz, levelDb };
}

const setup: Setup = {
  microphoneDistance: { m: 0.9, toleranceM: 0 },
  temperatureC: 20,
  lengthUnit: 'cm',
  surfaces: [
    {
      name: 'wall behind',
      speakerDistance: { m: 0.3, toleranceM: 0 },
      microphoneDistance: { m: 1.2, toleranceM: 0 },
    },
    {
      name: 'desk',
      speakerDistance: { m: 0.2, toleranceM: 0 },
      microphoneDistance: { m: 0.3, toleranceM: 0 },
    },
  ],
};

test.each([1900, 2300, 2700])(
  'a null of reversed drivers at %i Hz beside surfaces is never boosted, and never surely the placement’s',
  (crossoverHz) => {
    const { findings } = diagnose({
      curve: measured(crossoverHz, true),
      range: { fromHz: 60, toHz: 18000 },
      setup,
    });
    const dip = findings.find(
      ({ kind, frequencyHz, levelDb }) =>
        kind === 'dip' && levelDb < -12 && Math.abs(Math.log2(frequencyHz / crossoverHz)) < 0.1,
    )!;
    expect(dip.verdict).not.toBe('equalize');
    expect(dip.zone).toBeDefined();
    expect(dip.advice).not.toContain('the equalizer may mend it');
    expect(dip.evidence.join(' ')).toContain('two drivers that cancel at their crossover');
    if (dip.verdict === 'move') expect(dip.confidence).toBeLessThanOrEqual(0.9);
  },
);

import { describe, expect, it } from 'vitest';
import type { Measurement } from '../../src/measurement/measurement.js';
import { readMeasurement } from '../../src/measurement/readMeasurement.js';
import { commonReflections } from '../../src/pipeline/commonReflections.js';
import { impulseWav, rate } from '../measurement/impulseWav.js';

const position = (name: string, ...reflections: (readonly [number, number])[]): Measurement =>
  readMeasurement(impulseWav({ reflections }), name);

describe('commonReflections', () => {
  const here = position('here.wav', [200, 0.5], [700, 0.4]);

  it('gives delay, level and path of a single position as its impulse response shows them', () => {
    const [first, second, ...rest] = commonReflections([here])!;
    expect(rest).toEqual([]);
    expect(Math.abs(first!.delayS * rate - 200)).toBeLessThan(0.5);
    expect(Math.abs(second!.delayS * rate - 700)).toBeLessThan(0.5);
    expect(Math.abs(first!.levelDb - 20 * Math.log10(0.5))).toBeLessThan(0.3);
    // ISO 9613-1: 343.2 m/s at 20 °C.
    expect(Math.abs(first!.pathDifferenceM - (200 / rate) * 343.2)).toBeLessThan(0.01);
  });

  it('takes the temperature into the path', () => {
    const cold = commonReflections([here], 0)![0]!;
    // ISO 9613-1: 331.29 m/s at 0 °C.
    expect(Math.abs(cold.pathDifferenceM / (cold.delayS * 331.29) - 1)).toBeLessThan(1e-3);
  });

  it('keeps of several positions what all of them show, at its mean delay', () => {
    const there = position('there.wav', [210, 0.5], [1000, 0.4]);
    const common = commonReflections([here, there])!;
    expect(common).toHaveLength(1);
    expect(Math.abs(common[0]!.delayS * rate - 205)).toBeLessThan(0.5);
  });

  it('knows nothing where a position came as text', () => {
    const { reflections: _, ...text } = here;
    expect(commonReflections([here, text])).toBeUndefined();
  });
});

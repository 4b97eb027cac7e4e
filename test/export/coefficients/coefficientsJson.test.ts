import { expect, test } from 'vitest';
import { coefficientsJson } from '../../../src/export/coefficients/coefficientsJson.js';
import { bankResponseDb } from '../../../src/filter/bankResponseDb.js';
import { sampleDesign } from '../sampleDesign.js';

/** Level in dB at `frequencyHz` of the printed difference equation, run on a unit impulse and transformed by hand. */
function levelByRunning(document: ReturnType<typeof parsed>, frequencyHz: number): number {
  const length = 32768;
  let signal = new Float64Array(length);
  signal[0] = document.inputGainLinear;
  for (const { coefficients: c } of document.sections) {
    const out = new Float64Array(length);
    for (let n = 0; n < length; n += 1) {
      const at = (values: Float64Array, k: number) => (k < 0 ? 0 : values[k]!);
      out[n] =
        c.b0 * at(signal, n) +
        c.b1 * at(signal, n - 1) +
        c.b2 * at(signal, n - 2) -
        c.a1 * at(out, n - 1) -
        c.a2 * at(out, n - 2);
    }
    signal = out;
  }
  const w = (2 * Math.PI * frequencyHz) / document.sampleRateHz;
  let [re, im] = [0, 0];
  signal.forEach((value, n) => {
    re += value * Math.cos(w * n);
    im -= value * Math.sin(w * n);
  });
  return 10 * Math.log10(re * re + im * im);
}

interface Section {
  readonly filter: unknown;
  readonly coefficients: Record<'b0' | 'b1' | 'b2' | 'a0' | 'a1' | 'a2', number>;
}
const parsed = (text: string) =>
  JSON.parse(text) as {
    sampleRateHz: number;
    inputGainDb: number;
    inputGainLinear: number;
    qConvention: string;
    differenceEquation: string;
    sections: Section[];
  };

test('the sections, run by the equation printed beside them, have the response of the bank and the input gain', () => {
  const design = sampleDesign();
  const document = parsed(coefficientsJson(design));
  const frequencies = Float64Array.of(40, 63.6, 119, 300, 800, 3312, 9000, 18000);
  const bank = bankResponseDb(design.filters, design.sampleRateHz, frequencies);
  frequencies.forEach((hz, i) => {
    // The impulse response has died away to 1e-9 after 32768 samples, so 1e-6 dB is rounding with room to spare.
    expect(levelByRunning(document, hz)).toBeCloseTo(bank[i]! + design.inputGainDb, 6);
  });
});

test('a0 is 1 in every section and the equation subtracts the feedback', () => {
  const document = parsed(coefficientsJson(sampleDesign()));
  expect(document.sections.map(({ coefficients }) => coefficients.a0)).toEqual(
    document.sections.map(() => 1),
  );
  expect(document.differenceEquation).toBe('y[n] = b0*x[n] + b1*x[n-1] + b2*x[n-2] - a1*y[n-1] - a2*y[n-2]');
});

test('sample rate, input gain in both scales, Q convention and the filters themselves stand in it', () => {
  const design = { ...sampleDesign(), inputGainDb: -6, sampleRateHz: 96000 };
  const document = parsed(coefficientsJson(design));
  expect(document.sampleRateHz).toBe(96000);
  expect(document.inputGainDb).toBe(-6);
  expect(document.inputGainLinear).toBeCloseTo(0.5011872336272722, 15);
  expect(document.qConvention).toContain('Cookbook');
  expect(document.sections.map(({ filter }) => filter)).toEqual(design.filters);
});

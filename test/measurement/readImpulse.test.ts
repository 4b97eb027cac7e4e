import { describe, expect, test } from 'vitest';
import { gaussian, seededRandom } from '../../fixtures/simulate/seededRandom.js';
import { analyseImpulse } from '../../src/impulse/analyseImpulse.js';
import { InputError } from '../../src/inputError.js';
import { readImpulse } from '../../src/measurement/readImpulse.js';
import { writeWav } from '../../src/measurement/wavWriter.js';
import { impulseSamples, rate } from './impulseWav.js';

const sampleRateHz = 48_000;
const wav = (durationS: number, at: (seconds: number) => number) =>
  writeWav({
    channels: [Float64Array.from({ length: durationS * sampleRateHz }, (_, n) => at(n / sampleRateHz))],
    sampleRateHz,
    format: 'float32',
  }).bytes;

/** Exponential sweep from 20 Hz to 20 kHz (Farina 2000). */
const sweep = (seconds: number, lengthS = 4): number => {
  const perOctave = lengthS / Math.log(1000);
  return seconds < lengthS
    ? 0.25 * Math.sin(2 * Math.PI * 20 * perOctave * (Math.exp(seconds / perOctave) - 1))
    : 0;
};

test('the recording of a sweep is refused, with what to do to it', () => {
  expect(() => readImpulse(wav(6, sweep), 'recording.wav')).toThrow(InputError);
  expect(() => readImpulse(wav(6, sweep), 'recording.wav')).toThrow(
    /^recording\.wav: found \d+ % of its energy within a quarter of a second of its peak.*nullwise deconvolve$/,
  );
});

test('what deconvolution left of a drowned or another sweep is not sent to be deconvolved alone', () => {
  expect(() => readImpulse(wav(6, sweep), 'impulse.wav')).toThrow(
    /deconvolve left looks so where noise drowned the sweep, or where another sweep was recorded/,
  );
});

test('noise that goes on is refused', () => {
  const random = seededRandom(3);
  expect(() =>
    readImpulse(
      wav(3, () => 0.1 * gaussian(random)),
      'noise.wav',
    ),
  ).toThrow(InputError);
});

test('an impulse response is taken, even of a hall that rings for 3 s', () => {
  const random = seededRandom(4);
  const hall = wav(5, (t) => (t < 0.1 ? 0 : 0.2 * gaussian(random) * 10 ** ((-60 / 20) * ((t - 0.1) / 3))));
  expect(readImpulse(hall, 'hall.wav').warnings).toEqual([]);
});

test('what is shorter than a second is taken as it is', () => {
  expect(readImpulse(wav(0.5, sweep), 'short.wav').impulse.samples).toHaveLength(24_000);
});

describe('a constant that the recording rests at', () => {
  const resting = (offset: number, options = {}) =>
    readImpulse(
      writeWav({
        channels: [impulseSamples(options).map((v) => v + offset)],
        sampleRateHz: rate,
        format: 'float64',
      }).bytes,
      'offset.wav',
    );

  test('is taken off and told of: the direct sound is found where it is, and the curve is as without it', () => {
    const options = { reflections: [[150, 0.4]] as const, noise: 1e-5 };
    const { impulse, warnings } = resting(0.004, options);
    expect(warnings.map(({ code }) => code)).toEqual(['offset-removed']);
    expect(warnings[0]!.message).toMatch(/^offset\.wav rests at 1\.\d % of its peak/);
    const clean = impulseSamples(options);
    // Five standard deviations of a mean over the 2352 samples of the tail, a little more for those left out.
    impulse.samples.forEach((v, i) => {
      if (Math.abs(v - clean[i]!) > 1.3e-6) throw new Error(`sample ${i} is off by ${v - clean[i]!}`);
    });
    expect(analyseImpulse(impulse).arrivalS * rate).toBeCloseTo(
      analyseImpulse({ samples: clean, sampleRateHz: rate }).arrivalS * rate,
      2,
    );
  });

  test('is taken off to a fraction of a step where the recording is rounded to 8 bits', () => {
    // Full steps below: what lies between two of them makes an offset of half a step.
    const exact = impulseSamples({ noise: 1e-3 });
    const rounded = exact.map((v) => Math.floor(v * 128) / 128);
    const { bytes } = writeWav({ channels: [rounded], sampleRateHz: rate, format: 'float64' });
    const { impulse, warnings } = readImpulse(bytes, 'rounded.wav');
    expect(warnings.map(({ code }) => code)).toEqual(['offset-removed']);
    const tail = impulse.samples.subarray(-2000);
    expect(Math.abs(tail.reduce((sum, v) => sum + v, 0) / tail.length) * 128).toBeLessThan(0.1);
    expect(analyseImpulse(impulse).arrivalS * rate).toBeCloseTo(
      analyseImpulse({ samples: exact, sampleRateHz: rate }).arrivalS * rate,
      0,
    );
  });

  test('does not make the file look like the recording of a sweep', () => {
    const samples = impulseSamples({ length: 5 * rate }).map((v) => v - 0.01);
    const { bytes } = writeWav({ channels: [samples], sampleRateHz: rate, format: 'pcm16' });
    expect(readImpulse(bytes, 'long.wav').warnings.map(({ code }) => code)).toEqual(['offset-removed']);
  });

  test('is not seen in noise, in rumble, in a slow decay, or where the file begins with the sound', () => {
    expect(resting(0, { noise: 1e-3 }).warnings).toEqual([]);
    expect(resting(0, { noise: 1e-4, rumble: true }).warnings).toEqual([]);
    const slow = wav(0.3, (t) => (t < 0.05 ? 0 : 0.5 * Math.exp(-(t - 0.05) / 0.2)));
    expect(readImpulse(slow, 'slow.wav').warnings).toEqual([]);
    const begins = wav(0.3, (t) => (t === 0 ? 0.5 : 0.01));
    expect(readImpulse(begins, 'begins.wav').warnings).toEqual([]);
  });
});

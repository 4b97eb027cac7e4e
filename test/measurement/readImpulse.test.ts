import { expect, test } from 'vitest';
import { gaussian, seededRandom } from '../../fixtures/simulate/seededRandom.js';
import { InputError } from '../../src/inputError.js';
import { readImpulse } from '../../src/measurement/readImpulse.js';
import { writeWav } from '../../src/measurement/wavWriter.js';

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

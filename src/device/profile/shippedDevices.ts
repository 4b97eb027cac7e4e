import { pow2 } from '../../elementary/exponential.js';
import { coefficientNames } from '../../filter/roundCoefficients.js';
import type { DeviceProfile } from './deviceProfile.js';

/** Nominal frequencies of third-octave bands from 20 Hz to 20 kHz. Source: ISO 266 / IEC 61260-1. */
const THIRD_OCTAVES_HZ = [
  20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000,
  2500, 3150, 4000, 5000, 6300, 8000, 10000, 12500, 16000, 20000,
];

/** Q of a band one third of an octave wide between its points of half the gain: 2^(1/6)/(2^(1/3) − 1). */
const THIRD_OCTAVE_Q = pow2(1 / 6) / (pow2(1 / 3) - 1);

/** Profiles that come with the program, named by what they are. `common practice, no published source` for their steps. */
export const shippedDevices: readonly DeviceProfile[] = [
  {
    name: 'five-band-48k',
    sampleRatesHz: [48000],
    bands: [
      { types: ['peaking'], count: 5 },
      { types: ['lowShelf'], count: 1 },
      { types: ['highShelf'], count: 1 },
    ],
    gainDb: { min: -12, max: 6, step: 0.5 },
    frequencyHz: { min: 20, max: 20000, perOctave: 3 },
    q: { min: 0.4, max: 10, step: 0.1 },
    qConvention: 'cookbook',
  },
  {
    name: 'ten-band-bandwidth',
    sampleRatesHz: [44100, 48000, 96000],
    bands: [
      { types: ['peaking'], count: 8 },
      { types: ['lowShelf'], count: 1 },
      { types: ['highShelf'], count: 1 },
    ],
    gainDb: { min: -15, max: 12, step: 0.1 },
    frequencyHz: { min: 20, max: 20000, step: 1 },
    q: { min: 0.1, max: 3, step: 0.05 },
    qConvention: 'bandwidthOctaves',
  },
  {
    name: 'third-octave-graphic',
    sampleRatesHz: [44100, 48000, 96000],
    bands: [{ types: ['peaking'], count: THIRD_OCTAVES_HZ.length, atHz: THIRD_OCTAVES_HZ }],
    gainDb: { min: -12, max: 12, step: 0.5 },
    frequencyHz: { min: 20, max: 20000 },
    q: { min: THIRD_OCTAVE_Q, max: THIRD_OCTAVE_Q, values: [THIRD_OCTAVE_Q] },
    qConvention: 'cookbook',
  },
  {
    name: 'fixed-point-5.23-biquads',
    sampleRatesHz: [44100, 48000, 96000, 192000],
    bands: [{ types: ['peaking', 'lowShelf', 'highShelf'], count: 16 }],
    gainDb: { min: -24, max: 15 },
    frequencyHz: { min: 10, max: 20000 },
    q: { min: 0.1, max: 20 },
    qConvention: 'cookbook',
    coefficients: {
      fixedPoint: { integerBits: 5, fractionBits: 23 },
      feedbackSign: 'subtracted',
      order: coefficientNames,
    },
  },
];

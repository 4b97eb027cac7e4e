import type { DeviceProfile, DeviceRange } from '../../src/device/profile/deviceProfile.js';
import { type QConventionName, qConventions } from '../../src/filter/qConventions.js';

/** One range for all bands, though the number means one thing for peaks and, under some conventions, another for shelves. */
const RANGES: readonly (readonly [QConventionName, DeviceRange])[] = [
  ['cookbook', { min: 0.4, max: 10, step: 0.1 }],
  ['bandwidthOctaves', { min: 0.1, max: 3, step: 0.05 }],
  // Peaks of Q 1.6 to 14, shelves of Q 0.1 to 0.9.
  ['bandwidthOctavesAnalog', { min: 0.1, max: 0.9, step: 0.05 }],
  // No shelf but of Q 5 and more.
  ['bandwidthHz', { min: 5, max: 1000, step: 5 }],
  ['bandwidthHz', { min: 0.5, max: 8000, perOctave: 6 }],
  ['poleQ', { min: 0.4, max: 12, step: 0.1 }],
  ['poleQMirrored', { min: 0.4, max: 12, step: 0.1 }],
  ['threeDbQ', { min: 0.4, max: 12, step: 0.1 }],
  ['threeDbFromFlatQ', { min: 0.4, max: 12, step: 0.1 }],
  ['shelfSlope', { min: 0.2, max: 2, step: 0.1 }],
  ['shelfSlope', { min: 1, max: 10, step: 0.1 }],
];

const FREQUENCIES: readonly DeviceRange[] = [
  { min: 20, max: 20000, perOctave: 3 },
  { min: 20, max: 20000, perOctave: 24 },
  { min: 20, max: 20000 },
];

/** Devices of every convention, each with coarse frequencies and with fine ones. */
export const conventionDevices = (count: number): DeviceProfile[] =>
  RANGES.flatMap(([qConvention, q]) =>
    FREQUENCIES.map((frequencyHz) => ({
      name: `${qConvention} ${q.min} to ${q.max}${qConventions[qConvention].unit}, ${frequencyHz.perOctave ? `${frequencyHz.perOctave} an octave` : 'no steps'}`,
      sampleRatesHz: [48000],
      bands: [{ types: ['peaking', 'lowShelf', 'highShelf'], count }],
      gainDb: { min: -12, max: 6, ...(frequencyHz.perOctave && { step: 0.5 }) },
      frequencyHz,
      q: frequencyHz.perOctave ? q : { min: q.min, max: q.max },
      qConvention,
    })),
  );

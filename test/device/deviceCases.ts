import type { DeviceProfile } from '../../src/device/profile/deviceProfile.js';

/** Steps as coarse as small devices have them. */
export const coarse: DeviceProfile = {
  name: 'coarse',
  sampleRatesHz: [48000],
  bands: [
    { types: ['peaking'], count: 4 },
    { types: ['lowShelf'], count: 1 },
    { types: ['highShelf'], count: 1 },
  ],
  gainDb: { min: -12, max: 6, step: 0.5 },
  frequencyHz: { min: 20, max: 20000, perOctave: 3 },
  q: { min: 0.4, max: 10, step: 0.1 },
  qConvention: 'cookbook',
};

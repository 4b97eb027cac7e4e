import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  cancellationsHz,
  pathDifferenceM,
  reflectedPathM,
  reinforcementsHz,
  speakerDistanceForM,
} from '../../src/acoustics/imageSource.js';

const metres = (min: number, max: number) => fc.double({ min, max, noNaN: true });

describe('imageSource', () => {
  it('is the mirror image: the path over a plane equals the straight way from the source behind it', () => {
    fc.assert(
      fc.property(metres(0.05, 3), metres(0.05, 3), metres(0.1, 4), (hs, hm, along) => {
        const r = Math.hypot(along, hm - hs);
        const mirrored = Math.hypot(along, hm + hs);
        expect(reflectedPathM({ r, hs, hm })).toBeCloseTo(mirrored, 10);
        expect(pathDifferenceM({ r, hs, hm })).toBeCloseTo(mirrored - r, 10);
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  it('keeps its digits for a speaker very close to the plane, where L − r would lose them', () => {
    // First order in hs: 2·hs·hm/r.
    expect(pathDifferenceM({ r: 2, hs: 1e-12, hm: 0.5 }) / 5e-13).toBeCloseTo(1, 9);
  });

  it('speakerDistanceForM undoes pathDifferenceM, whether the microphone follows or stays', () => {
    fc.assert(
      fc.property(
        metres(0.1, 2),
        metres(0.1, 2),
        metres(0.5, 3),
        metres(0.5, 2),
        fc.constantFrom(0, 1, 0.4),
        (hs, hm, r, factor, follows) => {
          const moved = hs * factor;
          const there = { r, hs: moved, hm: hm + follows * (moved - hs) };
          if (there.hm <= 0.01) return;
          const found = speakerDistanceForM(pathDifferenceM(there), { r, hs, hm }, follows);
          expect(found).toBeCloseTo(moved, 9);
        },
      ),
      { seed: 2, numRuns: 300 },
    );
  });

  it('cancellations lie at odd, reinforcements at even multiples of half a wave, none above the limit', () => {
    expect(cancellationsHz(0.5, 1800, 340)).toEqual([340, 1020, 1700]);
    expect(reinforcementsHz(0.5, 1400, 340)).toEqual([680, 1360]);
    expect(cancellationsHz(0.5, 300, 340)).toEqual([]);
  });
});

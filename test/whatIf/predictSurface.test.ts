import { describe, expect, test } from 'vitest';
import { reflectedPathM } from '../../src/acoustics/imageSource.js';
import type { Setup } from '../../src/acoustics/setup.js';
import { sphereSeries, sumSphereSeries } from '../../src/acoustics/sphereBaffle.js';
import { mirrorGrid, pathGeometry, radiatedPath } from '../../src/whatIf/mirrorModel.js';
import { predictSurface } from '../../src/whatIf/predictSurface.js';

function behind(hs: number, toleranceM = 0): Setup {
  return {
    temperatureC: 20,
    microphoneDistance: { m: 1, toleranceM: 0 },
    baffleWidthM: 0.17,
    surfaces: [
      {
        name: 'wall behind',
        speakerDistance: { m: hs, toleranceM },
        microphoneDistance: { m: hs + 1, toleranceM },
      },
    ],
    lengthUnit: 'cm',
  };
}

describe('predictSurface', () => {
  test('has the quarter wavelength behind the speaker and its odd multiples (c/(4·hs), computed)', () => {
    const { pathDifferenceM, cancellationsHz, reinforcementsHz } = predictSurface(behind(0.25), 0);
    expect(pathDifferenceM).toBeCloseTo(0.5, 9);
    expect(cancellationsHz.slice(0, 3).map((f) => Math.round(f * 10) / 10)).toEqual([343.2, 1029.6, 1716]);
    expect(reinforcementsHz[0]).toBeCloseTo(686.4, 6);
  });

  test('expects dips from behind lower than the tape says, since the sound bends around the box first', () => {
    const { dips } = predictSurface(behind(0.4), 0);
    for (const dip of dips.slice(0, 3)) {
      expect(dip.expectedHz).toBeLessThan(dip.frequencyHz);
      expect(dip.expectedHz).toBeGreaterThan(0.8 * dip.frequencyHz);
    }
  });

  test('expects dips to get shallower with distance, and with frequency behind the box', () => {
    const depth = (hs: number, n: number) => predictSurface(behind(hs), 0).dips[n]!.depthDb;
    expect(depth(0.8, 0)).toBeLessThan(depth(0.3, 0));
    expect(depth(0.3, 1)).toBeLessThan(depth(0.3, 0));
  });

  test('carries tolerances through to an interval around the cancellation, and has none without', () => {
    const [dip] = predictSurface(behind(0.25, 0.02), 0).dips;
    expect(dip!.interval!.fromHz).toBeLessThan(dip!.frequencyHz);
    expect(dip!.interval!.toHz).toBeGreaterThan(dip!.frequencyHz);
    expect(predictSurface(behind(0.25), 0).dips[0]!.interval).toBeUndefined();
  });

  test('says nothing of a surface that the speaker stands in', () => {
    expect(predictSurface(behind(0), 0)).toMatchObject({
      cancellationsHz: [],
      reinforcementsHz: [],
      dips: [],
    });
  });
});

describe('pathGeometry', () => {
  /** Speaker and microphone by their coordinates; the planes are x = 0 and z = 0. */
  const speaker = [0.5, 0, 0.9];
  const microphone = [1.4, 0.3, 1.2];
  const step = microphone.map((m, i) => m - speaker[i]!);
  const directM = Math.hypot(...step);
  const planes = [
    { hs: 0.5, hm: 1.4 },
    { hs: 0.9, hm: 1.2 },
  ];

  test('agrees with mirrored coordinates for one and for two planes, the centre lying behind the baffle', () => {
    const behindM = 0.12;
    const centre = speaker.map((s, i) => s - (behindM * step[i]!) / directM);
    for (const flipped of [[0], [2], [0, 2]]) {
      const image = microphone.map((m, i) => (flipped.includes(i) ? -m : m));
      const way = image.map((m, i) => m - centre[i]!);
      const met = flipped.map((i) => planes[i === 0 ? 0 : 1]!);
      const { pathM, cosTheta } = pathGeometry(0.09, directM, behindM, met);
      expect(pathM).toBeCloseTo(Math.hypot(...way), 9);
      const along = way.reduce((sum, w, i) => sum + (w * step[i]!) / directM, 0);
      expect(cosTheta).toBeCloseTo(along / Math.hypot(...way), 9);
    }
  });

  test('is the plain image source where the centre lies in the baffle', () => {
    const { pathM } = pathGeometry(0.09, directM, 0, [planes[0]!]);
    expect(pathM).toBeCloseTo(reflectedPathM({ r: directM, ...planes[0]! }), 12);
  });
});

describe('radiatedPath', () => {
  const c = 343;
  const radiusM = 0.09;
  const directM = 1;
  const behindM = 0.12;

  test.each([0.12, 0.3, 0.6, 1])(
    'lags above 4 kHz as a source on a rigid sphere does, by way of a plane at %d m (Morse, Vibration and Sound, §27)',
    (h) => {
      const frequencyHz = Float64Array.of(5000, 8000, 12000, 16000);
      const met = [{ hs: h, hm: h }];
      const { r, pathM, cosTheta } = pathGeometry(radiusM, directM, behindM, met);
      const { re, im } = radiatedPath(mirrorGrid(frequencyHz, c, radiusM), directM, behindM, met);
      frequencyHz.forEach((hz, i) => {
        const k = (2 * Math.PI * hz) / c;
        const series = sphereSeries(k * radiusM);
        const there = sumSphereSeries(series, cosTheta);
        const ahead = sumSphereSeries(series, 1);
        const exact = Math.atan2(there.im, there.re) - Math.atan2(ahead.im, ahead.re) - k * (pathM - r);
        const off = Math.atan2(im[i]!, re[i]!) - exact;
        expect(Math.abs(off - 2 * Math.PI * Math.round(off / (2 * Math.PI)))).toBeLessThan(0.4);
      });
    },
  );

  test("keeps the odd multiples of a desk's first cancellation where they are, in the treble as well", () => {
    const desk: Setup = {
      temperatureC: 20,
      microphoneDistance: { m: 1.2, toleranceM: 0 },
      baffleWidthM: 0.15,
      surfaces: [
        {
          name: 'desk',
          speakerDistance: { m: 0.11, toleranceM: 0 },
          microphoneDistance: { m: 0.35, toleranceM: 0 },
        },
      ],
      lengthUnit: 'cm',
    };
    const { dips } = predictSurface(desk, 0);
    dips.forEach(({ expectedHz }, i) => {
      expect(expectedHz / dips[0]!.expectedHz / (2 * i + 1)).toBeCloseTo(1, 1);
    });
  });
});

import { describe, expect, it } from 'vitest';
import { rearReflectionModel } from '../../src/acoustics/rearReflectionModel.js';
import { spherePressure } from '../../src/acoustics/sphereBaffle.js';

const c = 343.2;

describe('rearReflectionModel', () => {
  it('follows the sphere’s rear radiation over its front radiation up to ka = 1.5 within 1.2 dB and 0.12 rad', () => {
    for (const radiusM of [0.06, 0.085, 0.13]) {
      const model = rearReflectionModel(1, { radiusM, centreBehindM: 0 }, c);
      for (const ka of [0.1, 0.3, 0.5, 0.7, 1, 1.25, 1.5]) {
        const f = (ka * c) / (2 * Math.PI * radiusM);
        const [front, rear] = [spherePressure(ka, 0), spherePressure(ka, Math.PI)];
        // rear over front, as a complex number
        const norm = front.re * front.re + front.im * front.im;
        const re = (rear.re * front.re + rear.im * front.im) / norm;
        const im = (rear.im * front.re - rear.re * front.im) / norm;
        const modelDb = -10 * Math.log10(1 + (f / model.cornerHz) ** 2);
        expect(Math.abs(20 * Math.log10(Math.hypot(re, im)) - modelDb)).toBeLessThan(1.2);
        const phase = -Math.atan(f / model.cornerHz) - (2 * Math.PI * f * model.lagM) / c;
        const apart = Math.atan2(im, re) - phase;
        expect(Math.abs(apart - 2 * Math.PI * Math.round(apart / (2 * Math.PI)))).toBeLessThan(0.12);
      }
    }
  });

  it('leaves in the lag only what the measured distances do not hold already', () => {
    const radiusM = 0.08;
    const atBaffle = rearReflectionModel(0.6, { radiusM, centreBehindM: radiusM }, c);
    expect(atBaffle.lagM).toBeCloseTo(0.2 * radiusM, 12);
    expect(atBaffle.strength).toBe(0.6);
    // With the low-pass's share, c/(2π·corner), it comes to one radius at low frequency.
    expect(atBaffle.lagM + c / (2 * Math.PI * atBaffle.cornerHz)).toBeCloseTo(radiusM, 12);
  });
});

import { describe, expect, it } from 'vitest';
import { roomModes } from '../../src/acoustics/roomModes.js';
import { schroederFrequencyHz } from '../../src/acoustics/schroederFrequency.js';

describe('room modes against M. Long, Architectural Acoustics, 2nd ed., Table 8.1 (7×5×3 m, c = 344 m/s)', () => {
  const modes = roomModes({ lengthM: 7, widthM: 5, heightM: 3 }, 100, 344);

  it.each([24.6, 34.5, 42.4, 49.2, 57.4, 60.1].map((hz, i) => [i, hz]))('mode %d lies at %d Hz', (i, hz) => {
    // The table is rounded, and holds a value or two that are a tenth off.
    expect(Math.abs(modes[i]!.frequencyHz - hz)).toBeLessThan(0.15);
  });

  it('has 7 axial, 10 tangential and 4 oblique modes below 100 Hz', () => {
    const count = (kind: string) => modes.filter((mode) => mode.kind === kind).length;
    expect([count('axial'), count('tangential'), count('oblique')]).toEqual([7, 10, 4]);
  });
});

describe('Schroeder frequency (Kuttruff, Room Acoustics: 2000·√(T/V))', () => {
  it('is 141 Hz for 200 m³ and 1 s', () => {
    expect(Math.abs(schroederFrequencyHz(1, 200) - 141)).toBeLessThan(0.5);
  });

  it('is 175 Hz for 7×5×3 m and 0.8 s', () => {
    expect(Math.abs(schroederFrequencyHz(0.8, 105) - 175)).toBeLessThan(0.5);
  });
});

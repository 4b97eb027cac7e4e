import { describe, expect, it } from 'vitest';
import { roomModes } from '../../src/acoustics/roomModes.js';

describe('roomModes', () => {
  const room = { lengthM: 4.2, widthM: 3.1, heightM: 2.4 };

  it('come in ascending order, each once, with its numbers and kind', () => {
    const modes = roomModes(room, 200, 343.2);
    expect(new Set(modes.map(({ nx, ny, nz }) => `${nx} ${ny} ${nz}`)).size).toBe(modes.length);
    modes.forEach((mode, i) => {
      if (i > 0) expect(mode.frequencyHz).toBeGreaterThanOrEqual(modes[i - 1]!.frequencyHz);
      const nonZero = [mode.nx, mode.ny, mode.nz].filter((n) => n > 0).length;
      expect(mode.kind).toBe(['axial', 'tangential', 'oblique'][nonZero - 1]);
    });
    expect(modes[0]).toMatchObject({ nx: 1, ny: 0, nz: 0, kind: 'axial' });
    expect(modes[0]!.frequencyHz).toBeCloseTo(343.2 / 8.4, 9);
  });

  it('includes a mode that lies at the limit itself and none above', () => {
    const first = 343.2 / 8.4;
    expect(roomModes(room, first * (1 + 1e-12), 343.2)).toHaveLength(1);
    expect(roomModes(room, first * 0.999, 343.2)).toEqual([]);
  });

  it('grow in number as 4π/3·V·(f/c)³ plus surface and edge terms (Kuttruff)', () => {
    const { lengthM: l, widthM: w, heightM: h } = room;
    const x = 500 / 343.2;
    const surface = 2 * (l * w + w * h + h * l);
    const edges = 4 * (l + w + h);
    const expected =
      (4 * Math.PI * l * w * h * x ** 3) / 3 + (Math.PI * surface * x ** 2) / 4 + (edges * x) / 8;
    expect(Math.abs(roomModes(room, 500, 343.2).length / expected - 1)).toBeLessThan(0.03);
  });
});

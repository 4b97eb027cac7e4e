import { describe, expect, it } from 'vitest';
import { logGrid } from '../../src/curve/logGrid.js';
import { energyTimeCurve } from '../../src/impulse/arrivals/energyTimeCurve.js';
import { equivalentDistances } from '../../src/impulse/arrivals/equivalentDistances.js';
import { directAndRoom } from '../../src/impulse/response/directAndRoom.js';
import { frequencyDependentWindow } from '../../src/impulse/response/frequencyDependentWindow.js';
import { mergedCurve } from '../../src/impulse/response/mergedCurve.js';
import { chainResponse, degrees, echoic, pass, peaking } from './digitalSystem.js';

const rate = 48_000;
const arrivalS = 0.01;
const gate = { beforeS: 0.002, afterS: 0.0049 };
const echo = { delayS: 5e-3, levelDb: -8 };
const system = [pass('high', 60, 0.7, rate), peaking(1500, 4, 1, rate), pass('low', 18_000, 0.7, rate)];
const impulse = echoic(system, rate, arrivalS, [echo]);
const g = 10 ** (echo.levelDb / 20);

describe('directAndRoom', () => {
  const grid = logGrid(100, 10_000);
  const { direct, whole, room } = directAndRoom(impulse, arrivalS, gate, grid);

  it('leaves out what the gate does not resolve', () => {
    expect(direct.frequencyHz[0]!).toBeGreaterThanOrEqual(1 / gate.afterS);
    expect(direct.frequencyHz.length).toBeLessThan(grid.length);
  });

  it('gives the speaker alone through the gate', () => {
    const exact = chainResponse(system, rate, direct.frequencyHz);
    direct.frequencyHz.forEach((f, i) => {
      // Twice what the gate resolves and upward; the bass rings on beyond the gate.
      if (f > 400) expect(Math.abs(direct.levelDb[i]! - exact.levelDb[i]!)).toBeLessThan(0.25);
    });
  });

  it('gives the comb of the reflection as the room', () => {
    room.frequencyHz.forEach((f, i) => {
      const angle = -2 * Math.PI * f * echo.delayS;
      const comb = 20 * Math.log10(Math.hypot(1 + g * Math.cos(angle), g * Math.sin(angle)));
      if (f > 400) expect(Math.abs(room.levelDb[i]! - comb)).toBeLessThan(0.3);
      expect(room.levelDb[i]).toBeCloseTo(whole.levelDb[i]! - direct.levelDb[i]!, 12);
    });
  });
});

describe('mergedCurve', () => {
  it('is the gated curve above the crossover and the ungated below, joined at one level', () => {
    const frequencyHz = logGrid(30, 15_000);
    const { curve, crossoverHz, spliceDb } = mergedCurve(impulse, { arrivalS, gate, frequencyHz });
    const exact = chainResponse(system, rate, frequencyHz);
    expect(crossoverHz).toBeCloseTo(2 / gate.afterS, 6);
    // The reflection's ripple cancels in the mean of the level, the more so the more of it lies in the octave.
    expect(Math.abs(spliceDb)).toBeLessThan(0.6);
    frequencyHz.forEach((f, i) => {
      if (f > 1.3 * crossoverHz) expect(Math.abs(curve.levelDb[i]! - exact.levelDb[i]!)).toBeLessThan(0.25);
      if (f < 40) {
        const angle = -2 * Math.PI * f * echo.delayS;
        const comb = 20 * Math.log10(Math.hypot(1 + g * Math.cos(angle), g * Math.sin(angle)));
        expect(Math.abs(curve.levelDb[i]! - spliceDb - exact.levelDb[i]! - comb)).toBeLessThan(0.05);
      }
    });
    const steps = Array.from(frequencyHz.keys())
      .slice(1)
      .map((i) => Math.abs(curve.levelDb[i]! - curve.levelDb[i - 1]!));
    expect(Math.max(...steps)).toBeLessThan(1.5);
  });

  it('takes a room that lifts the bass out of the splice', () => {
    // Reflections of a boundary close by double the bass but not the treble; late ones only the ungated part.
    const lifted = echoic(system, rate, arrivalS, [
      { delayS: 5.3e-3, levelDb: -2 },
      { delayS: 7.1e-3, levelDb: -3 },
      { delayS: 9.7e-3, levelDb: -3 },
    ]);
    const frequencyHz = logGrid(30, 15_000, 96);
    const { curve, spliceDb, crossoverHz } = mergedCurve(lifted, { arrivalS, gate, frequencyHz });
    expect(spliceDb).toBeLessThan(-0.5);
    const near = Array.from(frequencyHz.keys()).filter(
      (i) => frequencyHz[i]! > crossoverHz / Math.SQRT2 && frequencyHz[i]! < crossoverHz * Math.SQRT2,
    );
    const exact = chainResponse(system, rate, frequencyHz);
    const mean = near.reduce((sum, i) => sum + curve.levelDb[i]! - exact.levelDb[i]!, 0) / near.length;
    expect(Math.abs(mean)).toBeLessThan(1);
  });

  it('refuses a crossover that the gate does not resolve', () => {
    expect(() => mergedCurve(impulse, { arrivalS, gate, crossoverHz: 150 })).toThrow(/at least 20/);
  });
});

describe('frequencyDependentWindow', () => {
  const frequencyHz = logGrid(40, 16_000, 96);

  it('gives a speaker with a late reflection its own response in the treble and both in the bass', () => {
    const { levelDb, phaseRad } = frequencyDependentWindow(impulse, { arrivalS, cycles: 6, frequencyHz });
    const exact = chainResponse(system, rate, frequencyHz);
    frequencyHz.forEach((f, i) => {
      // 6 periods have passed before the echo comes from 1.2 kHz on.
      if (f > 1250 && f < 16_000) {
        expect(Math.abs(levelDb[i]! - exact.levelDb[i]!)).toBeLessThan(0.35);
        expect(degrees(phaseRad![i]!, exact.phaseRad[i]!)).toBeLessThan(4);
      }
    });
    // Well inside the window the comb shows: at 200 Hz and 300 Hz a reinforcement and a null of the 5 ms echo.
    const level = (f: number) => {
      const i = frequencyHz.findIndex((v) => v >= f);
      return levelDb[i]! - exact.levelDb[i]!;
    };
    expect(level(200) - level(300)).toBeGreaterThan(3);
  });

  it('smooths a sharp resonance the more the fewer the cycles', () => {
    const sharp = echoic([peaking(1000, 10, 20, rate)], rate, arrivalS, []);
    const top = (cycles: number) =>
      Math.max(...frequencyDependentWindow(sharp, { arrivalS, cycles, frequencyHz }).levelDb);
    expect(top(2)).toBeLessThan(top(8));
    expect(top(8)).toBeLessThan(top(100));
    expect(Math.abs(top(100) - 10)).toBeLessThan(0.5);
  });

  it('refuses a number of cycles that is not positive', () => {
    expect(() => frequencyDependentWindow(impulse, { arrivalS, cycles: 0, frequencyHz })).toThrow(RangeError);
  });
});

describe('energyTimeCurve', () => {
  it('is 0 dB at the arrival and shows an echo of a copy at its delay and level', () => {
    const { timeS, levelDb } = energyTimeCurve(impulse, { arrivalS });
    const greatest = (from: number, to: number) =>
      levelDb.reduce(
        (best, l, i) => (timeS[i]! >= from && timeS[i]! < to && l > levelDb[best]! ? i : best),
        timeS.findIndex((t) => t >= from),
      );
    expect(levelDb[greatest(-0.001, 0.001)]).toBe(0);
    const at = greatest(0.004, 0.006);
    expect(Math.abs(timeS[at]! - timeS[greatest(-0.001, 0.001)]! - echo.delayS) * rate).toBeLessThan(1.01);
    // The rest of the direct sound lies under the echo.
    expect(Math.abs(levelDb[at]! - echo.levelDb)).toBeLessThan(0.5);
  });
});

describe('equivalentDistances', () => {
  it('halves the path for a wall behind and solves the image source for a plane alongside', () => {
    const { behindM, alongsideM } = equivalentDistances(0.53, 1.2);
    expect(behindM).toBeCloseTo(0.265, 12);
    expect(Math.sqrt(1.2 ** 2 + 4 * alongsideM! ** 2) - 1.2).toBeCloseTo(0.53, 12);
    expect(equivalentDistances(0.53).alongsideM).toBeUndefined();
  });
});

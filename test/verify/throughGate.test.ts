import { describe, expect, test } from 'vitest';
import type { Curve } from '../../src/curve/curve.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { createBankRunner } from '../../src/filter/runBank.js';
import { ringsPast, throughGate } from '../../src/verify/throughGate.js';
import { verifyDesign } from '../../src/verify/verifyDesign.js';
import { designOf } from './smallRoom.js';

const gateS = 0.005;
const bank: Filter[] = [
  { type: 'peaking', frequencyHz: 244, gainDb: -7, q: 10 },
  { type: 'peaking', frequencyHz: 330, gainDb: 5, q: 10 },
  { type: 'peaking', frequencyHz: 1900, gainDb: -4, q: 3 },
];
const resonance: Filter = { type: 'peaking', frequencyHz: 244, gainDb: 7, q: 10 };
const speaker: Filter[] = [
  { type: 'lowShelf', frequencyHz: 60, gainDb: -24, q: 0.7 },
  { type: 'peaking', frequencyHz: 1900, gainDb: 4, q: 3 },
  resonance,
];

/** Through a speaker and filters, with a reflection inside the gate, kept for 5 ms with a quarter of them fading (Hann). */
function gated(filters: readonly Filter[], rateHz: number, grid: Float64Array): Curve {
  const samples = new Float64Array(Math.floor(gateS * rateHz) + 1);
  samples[0] = 1;
  samples[Math.round(0.0013 * rateHz)] = 0.3;
  createBankRunner([...speaker, ...filters], rateHz, 0)(samples);
  const end = gateS * rateHz;
  const kept = samples.map(
    (v, n) => v * (n < 0.75 * end ? 1 : Math.sin((Math.PI / 2) * ((end - n) / (end / 4))) ** 2),
  );
  const levelDb = grid.map((hz) => {
    let [re, im] = [0, 0];
    kept.forEach((v, n) => {
      re += v * Math.cos((2 * Math.PI * hz * n) / rateHz);
      im -= v * Math.sin((2 * Math.PI * hz * n) / rateHz);
    });
    return 10 * Math.log10(re * re + im * im);
  });
  return { frequencyHz: grid, levelDb };
}

const rms = (values: Float64Array) => Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / values.length);

describe('throughGate', () => {
  test.each([44100, 48000, 96000, 192000])(
    'knows what a gate shorter than the ringing shows, at %i Hz',
    (rateHz) => {
      const grid = logGrid(10, 20000, 48);
      const before = gated([], rateHz, grid);
      const after = gated(bank, rateHz, grid);
      const gate = throughGate(
        before,
        { afterS: gateS, fades: true },
        { filters: bank, sampleRateHz: rateHz },
      );
      const ownDb = bankResponseDb(bank, rateHz, grid);
      const correctionDb = gate.correctionDb(bank, rateHz, grid);
      const resolved = (values: Float64Array) =>
        values.filter((_, i) => grid[i]! > 1 / gateS && grid[i]! < 5000);
      const plain = resolved(ownDb.map((db, i) => after.levelDb[i]! - before.levelDb[i]! - db));
      const seen = resolved(
        ownDb.map((db, i) => after.levelDb[i]! - before.levelDb[i]! - db - correctionDb[i]!),
      );
      expect(rms(plain)).toBeGreaterThan(0.4);
      expect(rms(seen)).toBeLessThan(0.05);
      expect(rms(correctionDb.filter((_, i) => grid[i]! > 6000))).toBeLessThan(0.05);
    },
  );

  // Poles decay as e^(−ωt/2Q): at 100 Hz with a pole Q of 10 by 43 dB in 5·10/(π·100) s = 159 ms.
  test.each([
    [0.158, true],
    [0.16, false],
  ])('a filter of Q 10 at 100 Hz in %f s: rings on %s', (afterS, rings) => {
    expect(ringsPast({ type: 'peaking', frequencyHz: 100, gainDb: 0, q: 10 }, afterS)).toBe(rings);
  });

  test('leaves right filters alone, says that the gate was allowed for, and still names what is wrong', () => {
    const grid = logGrid(10, 20000, 48);
    const before = gated([], 48000, grid);
    const levels = Array.from(before.levelDb);
    const design = {
      ...designOf(bank),
      range: { fromHz: 205, toHz: 16000 },
      curves: {
        ...designOf(bank).curves,
        frequencyHz: Array.from(grid),
        measuredDb: levels,
        targetDb: levels,
      },
    };
    const heard = (filters: readonly Filter[]) =>
      verifyDesign({
        design,
        after: gated(filters, 48000, grid),
        seen: { resolvedFromHz: 1 / gateS, kept: { afterS: gateS, fades: true } },
      });
    const right = heard(bank);
    expect(right).toMatchObject({ asPromised: true, faults: [] });
    expect(right.errorRmsDb).toBeLessThan(0.15);
    expect(right.warnings.map(({ code }) => code)).toContain('gate-cuts-ringing');
    expect(right.curves.frequencyHz[0]).toBeGreaterThanOrEqual(200);

    for (const [filter] of bank.entries()) {
      expect(heard(bank.toSpliced(filter, 1)).faults).toMatchObject([{ type: 'filterMissing', filter }]);
    }
    const moved = heard(bank.with(1, { ...bank[1]!, frequencyHz: 470 })).faults;
    expect(moved).toMatchObject([{ type: 'frequencyWrong', filter: 1 }]);
    expect(Math.abs(moved[0]!.frequencyHz! / 470 - 1)).toBeLessThan(0.02);
  });

  test('says nothing where the filters have rung out', () => {
    const grid = logGrid(10, 20000, 48);
    const wide: Filter[] = [{ type: 'peaking', frequencyHz: 2000, gainDb: -4, q: 1 }];
    const curves = { ...designOf(wide).curves, frequencyHz: Array.from(grid) };
    const levels = Array.from(gated([], 48000, grid).levelDb);
    const { warnings } = verifyDesign({
      design: {
        ...designOf(wide),
        range: { fromHz: 205, toHz: 16000 },
        curves: { ...curves, measuredDb: levels, targetDb: levels },
      },
      after: gated(wide, 48000, grid),
      seen: { resolvedFromHz: 200, kept: { afterS: gateS, fades: true } },
    });
    expect(warnings).toEqual([]);
  });
});

import { describe, expect, test } from 'vitest';
import { randomScenario } from '../../fixtures/simulate/randomScenario.js';
import { seededRandom } from '../../fixtures/simulate/seededRandom.js';
import { simulate } from '../../fixtures/simulate/simulate.js';
import type { FrequencyRange } from '../../src/curve/curve.js';
import { design } from '../../src/design.js';
import { fitLimits } from '../../src/pipeline/fitLimits.js';
import { designSchema } from '../../src/schema/design.js';
import { brokenLimits, cookbookLevelDb } from '../fit/independentCheck.js';
import { measurementOf, requestOf } from '../pipeline/samples.js';

/** Simulated rooms, each with limits of its own; what must hold for every one of them. */
const ROOMS = [
  { seed: 11, surroundings: 'few', options: { bands: 6 } },
  { seed: 12, surroundings: 'room', options: { bands: 6, maxBoostDb: 3, maxCutDb: 8, maxQ: 6 } },
  { seed: 13, surroundings: 'room', options: { bands: 5, maxBoostDb: 0, sampleRateHz: 44100 } },
  { seed: 14, surroundings: 'few', options: { bands: 5, maxLevelLossDb: 0, minQ: 0.7 } },
] as const;

const seen = { zones: 0, left: 0, filters: 0 };

describe.each(ROOMS)('a design for the simulated room $seed', ({ seed, surroundings, options }) => {
  const { curve, setup } = simulate(randomScenario(seededRandom(seed), { withPhase: false, surroundings }));
  const request = requestOf(measurementOf(curve), { setup, ...options });
  const made = design(request);
  seen.zones += made.zones.length;
  seen.filters += made.filters.length;
  const eqAt = (hz: number) => cookbookLevelDb(made.filters, made.sampleRateHz, hz);

  test('keeps every limit, between grid points too, and its zones', () => {
    const { range, zones } = made;
    const {
      minFrequencyHz: _,
      maxFrequencyHz: __,
      ...limits
    } = fitLimits(request, range, {
      unknownBelow: false,
      unknownAbove: false,
    });
    const wide = { ...limits, minFrequencyHz: range.fromHz / 2, maxFrequencyHz: range.toHz * 2 };
    expect(brokenLimits(made.filters, made.sampleRateHz, { range, zones, limits: wide })).toEqual([]);
  });

  test('fills no dip that is to be left: the EQ rises there as far as the curve beside it needs, and no further', () => {
    const { range, zones, levelDb, curves } = made;
    const inside = (hz: number, spans: readonly FrequencyRange[]) =>
      spans.some(({ fromHz, toHz }) => hz >= fromHz && hz <= toHz);
    const deviation = (i: number) => curves.smoothedDb[i]! - (curves.targetDb[i]! - levelDb);
    const counted = Array.from(curves.frequencyHz.keys()).filter((i) => {
      const hz = curves.frequencyHz[i]!;
      return inside(hz, [range]) && !inside(hz, zones);
    });
    const meanDb = counted.reduce((sum, i) => sum + deviation(i) / counted.length, 0);
    const nearestTo = (hz: number) =>
      curves.frequencyHz.reduce(
        (best, f, i) => (Math.abs(f - hz) < Math.abs(curves.frequencyHz[best]! - hz) ? i : best),
        0,
      );
    for (const { fromHz, toHz, verdict, maxRiseDb } of zones) {
      if (verdict === 'move') expect(maxRiseDb).toBe(0.5);
      const needDb = [fromHz, toHz].map((hz) => meanDb - deviation(nearestTo(hz)));
      expect(maxRiseDb).toBeLessThanOrEqual(Math.max(0.5, ...needDb) + 0.15);
      seen.left += verdict === 'leave' ? 1 : 0;
    }
  });

  test('boosts no dip that asks for another placement', () => {
    for (const { kind, verdict, frequencyHz } of made.findings) {
      if (kind === 'dip' && verdict === 'move') expect(eqAt(frequencyHz)).toBeLessThanOrEqual(0.502);
    }
  });

  test('leaves no more error than there was about its own level, and keeps to its schema', () => {
    expect(made.unevenness.afterRmsDb).toBeLessThanOrEqual(made.unevenness.beforeRmsDb);
    expect(made.error.afterRmsDb).toBeLessThanOrEqual(made.error.beforeRmsDb);
    expect(designSchema.parse(made)).toEqual(made);
  });

  test('boosts nothing an octave below the speaker’s corner', () => {
    const corner = made.cornerHz ?? made.range.fromHz;
    for (const share of [0.5, 0.25, 0.1]) expect(eqAt(corner * share)).toBeLessThanOrEqual(0.51);
  });
});

test('these rooms have dips to leave alone and faults to mend', () => {
  expect(seen.zones).toBeGreaterThan(2);
  expect(seen.left).toBeGreaterThan(2);
  expect(seen.filters).toBeGreaterThan(12);
});

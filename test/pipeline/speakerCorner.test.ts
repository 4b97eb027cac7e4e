import { describe, expect, test } from 'vitest';
import { randomScenario } from '../../fixtures/simulate/randomScenario.js';
import { seededRandom } from '../../fixtures/simulate/seededRandom.js';
import { simulate } from '../../fixtures/simulate/simulate.js';
import { sealedCornerHz } from '../../src/acoustics/boxRolloff.js';
import type { Setup } from '../../src/acoustics/setup.js';
import { design } from '../../src/design.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import { chooseRange } from '../../src/pipeline/chooseRange.js';
import { diagnoseMeasurements } from '../../src/pipeline/diagnoseMeasurements.js';
import { cornerInRoom } from '../../src/pipeline/speakerCorner.js';
import { withFilters } from '../../src/pipeline/withFilters.js';
import { formatFrequency } from '../../src/units/formatFrequency.js';
import { curveOf, measurementOf, type Response, requestOf, sum } from './samples.js';

const C = 343.2;
const at = (m: number) => ({ m, toleranceM: 0 });
const setup: Setup = {
  temperatureC: 20,
  microphoneDistance: at(1.5),
  baffleWidthM: 0.16,
  surfaces: [
    { name: 'wall behind', speakerDistance: at(0.4), microphoneDistance: at(1.9) },
    { name: 'floor', speakerDistance: at(0.8), microphoneDistance: at(0.9) },
  ],
  lengthUnit: 'cm',
};

/** The images in each wall and in both, the walls less and less of a mirror toward high frequency. */
const walls: Response = (hz) => {
  let [re, im] = [1, 0];
  for (let set = 1; set < 4; set++) {
    const met = setup.surfaces.filter((_, i) => set & (1 << i));
    const squared = met.reduce(
      (s, { speakerDistance, microphoneDistance }) => s + 4 * speakerDistance.m * microphoneDistance.m,
      1.5 ** 2,
    );
    const pathM = Math.sqrt(squared);
    const size = ((0.8 / Math.hypot(1, hz / 900)) ** met.length * 1.5) / pathM;
    const turn = (2 * Math.PI * hz * (pathM - 1.5)) / C;
    re += size * Math.cos(turn);
    im -= size * Math.sin(turn);
  }
  return 10 * Math.log10(re * re + im * im);
};
/** |H|² of a second-order high-pass (Small 1972), Q 0.7. */
const sealed =
  (hz0: number): Response =>
  (hz) => {
    const w = hz / hz0;
    return 10 * Math.log10(w ** 4 / ((1 - w * w) ** 2 + (w / 0.7) ** 2));
  };
const vented =
  (hz0: number): Response =>
  (hz) =>
    -10 * Math.log10(1 + (hz0 / hz) ** 8);

describe('the corner of a box among walls', () => {
  test.each([
    ['sealed', sealed(62), sealedCornerHz({ kind: 'sealed', resonanceHz: 62, qtc: 0.7 })],
    ['vented', vented(62), 62],
  ])('%s: seems lower than it is, and is found once the walls are taken off', (_, box, trueHz) => {
    const curve = curveOf(sum(() => 80, box, walls));
    const without = chooseRange(curve, {}, 48000);
    expect((without.cornerHz ?? 0) / trueHz).toBeLessThan(0.92);
    const found = chooseRange(curve, { setup }, 48000);
    // How much walls send back is a guess, so at least half of the way to the true corner is asked for, and no more than it.
    expect(found.cornerHz! / trueHz).toBeGreaterThan(Math.sqrt((without.cornerHz ?? 0) / trueHz));
    expect(found.cornerHz! / trueHz).toBeLessThan(1.15);
    // The range stays as measured, so that cuts reach as low; only the boost ends higher.
    expect(found.range).toEqual(without.range);
    expect(found.boostFromHz).toBe(found.cornerHz);
    const warning = found.warnings.find(({ code }) => code === 'corner-lifted-by-walls');
    expect(warning?.message).toMatch(/\d+(\.\d)? Hz to \d+(\.\d)? Hz, by how much they send back/);
    expect(warning?.message).toContain('--from');
  });

  test('comes out nearer in simulated rooms with surfaces that the walls of a set-up stand for', () => {
    const octavesOff = Array.from({ length: 10 }, (_, i) => {
      const scenario = randomScenario(seededRandom(77100 + i), { surroundings: 'few', withPhase: false });
      const { curve, setup: known } = simulate({
        ...scenario,
        speaker: { ...scenario.speaker, box: { kind: 'sealed', resonanceHz: 62, qtc: 0.7 } },
      });
      const trueHz = sealedCornerHz({ kind: 'sealed', resonanceHz: 62, qtc: 0.7 });
      const off = (asked: { setup?: Setup }) =>
        Math.abs(Math.log2((chooseRange(curve, asked, 48000).cornerHz ?? 20) / trueHz));
      return { without: off({}), found: off({ setup: known }) };
    });
    const middle = (values: number[]) => values.sort((a, b) => a - b)[values.length >> 1]!;
    const without = middle(octavesOff.map((each) => each.without));
    expect(without).toBeGreaterThan(0.3);
    expect(middle(octavesOff.map((each) => each.found))).toBeLessThan(0.7 * without);
  });

  test('is the one that the notes tell', () => {
    const measurements = [measurementOf(curveOf(sum(() => 80, sealed(80), walls)))];
    const about = (hz: number) => formatFrequency(Number(hz.toPrecision(2)));
    const known = diagnoseMeasurements({ title: 'simulated', measurements, setup }, 48000);
    const without = diagnoseMeasurements({ title: 'simulated', measurements }, 48000);
    expect(about(without.cornerHz!)).not.toBe(about(known.cornerHz!));
    expect(known.diagnosis.notes.join(' ')).toContain(
      `Below about ${about(known.cornerHz!)} the speaker's own level, what the walls add taken off, falls`,
    );
    expect(without.diagnosis.notes.join(' ')).toContain(
      `Below about ${about(without.cornerHz!)} the level falls`,
    );
  });

  test('gives way to the limit that is asked for', () => {
    const curve = curveOf(sum(() => 80, vented(62), walls));
    const asked = chooseRange(curve, { setup, fromHz: 50 }, 48000);
    expect(asked.range.fromHz).toBe(50);
    expect(asked.boostFromHz).toBe(50);
    expect(asked.warnings.map(({ code }) => code)).not.toContain('corner-lifted-by-walls');
  });

  test('is left as measured where no wall stands near, and where a gate leaves the walls out', () => {
    const curve = curveOf(sum(() => 80, vented(62)));
    const far = (m: number) => ({ name: 'wall', speakerDistance: at(m), microphoneDistance: at(m) });
    const open = chooseRange(curve, { setup: { ...setup, surfaces: [far(30)] } }, 48000);
    expect(open.cornerHz).toBe(chooseRange(curve, {}, 48000).cornerHz);
    const trust = { fromHz: 40, toHz: 20000, resolvedFromHz: 800 };
    expect(chooseRange(curve, { setup }, 48000, trust).cornerHz).toBe(open.cornerHz);
  });

  test('holds the boost back half an octave below it', () => {
    const fallen = sum(() => 80, sealed(80), walls);
    const lowHz = Float64Array.of(80 / Math.SQRT2, 80 / 2);
    const boostDb = (made: ReturnType<typeof design>) =>
      Math.max(...bankResponseDb(made.filters, made.sampleRateHz, lowHz));
    const made = design(requestOf(measurementOf(curveOf(fallen)), { setup, effort: 'quick' }));
    expect(boostDb(made)).toBeLessThan(0.65);
    expect(made.warnings.map(({ code }) => code)).not.toContain('corner-in-room');
  });
});

describe('without distances', () => {
  test('a boost in the bass carries a caution, unless the lower end was given', () => {
    const [warning] = cornerInRoom({}, 48, 3);
    expect(warning).toMatchObject({ code: 'corner-in-room', frequencyHz: 48 });
    expect(warning!.message).toMatch(/walls lift the bass.*48 Hz.*--from/);
    expect(cornerInRoom({}, undefined, 3)).toHaveLength(1);
    expect(cornerInRoom({}, 48, 0.2)).toEqual([]);
    expect(cornerInRoom({ fromHz: 60 }, 48, 3)).toEqual([]);
    expect(cornerInRoom({ setup }, 48, 3)).toEqual([]);
  });

  test('and says of filters chosen by hand what those do', () => {
    const curve = curveOf(sum(() => 80, sealed(80), walls));
    const made = design(requestOf(measurementOf(curve), { effort: 'quick' }));
    const caution = cornerInRoom({}, made.cornerHz, 3.04);
    const warned = { ...made, warnings: [...caution, ...made.warnings] };
    const told = (gainDb: number) =>
      withFilters(warned, [{ type: 'lowShelf', frequencyHz: 150, gainDb, q: 0.7 }]).warnings.filter(
        ({ code }) => code === 'corner-in-room',
      );
    expect(told(5).map(({ message }) => message)).toEqual([expect.stringMatching(/up to [45]\.\d dB/)]);
    expect(told(-3)).toEqual([]);
  });
});

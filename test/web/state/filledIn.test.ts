import { expect, test } from 'vitest';
import type { Filter } from '../../../src/filter/filter.js';
import { readDevice } from '../../../src/schema/device.js';
import { filledIn } from '../../../web/state/filledIn.js';
import type { Project, ProjectFilter } from '../../../web/store/project.js';
import { sampleDesign } from '../../export/sampleDesign.js';

const peak = (frequencyHz: number): Filter => ({ type: 'peaking', frequencyHz, gainDb: -2, q: 1 });
const own = (frequencyHz: number, locked: boolean): ProjectFilter => ({
  filter: peak(frequencyHz),
  locked,
  on: true,
});
const project = (rest: Partial<Project>): Project => ({
  schemaVersion: 1,
  name: 'Shelf speaker (simulated)',
  files: [],
  options: {},
  overrules: [],
  ...rest,
});
const fitted = (...frequenciesHz: number[]) => ({ ...sampleDesign(), filters: frequenciesHz.map(peak) });
const placesOf = ({ filters = [] }: Project) => filters.map(({ filter }) => filter.frequencyHz);

test('a held filter keeps its place, the others give way to the fitted ones by frequency', () => {
  const before = project({ refit: true, filters: [own(900, false), own(400, true), own(100, false)] });
  const after = filledIn(before, fitted(3000, 400, 200), true);
  expect(placesOf(after)).toEqual([200, 400, 3000]);
  expect(after.filters!.map(({ locked }) => locked)).toEqual([false, true, false]);
  expect(after.refit).toBeUndefined();
});

test('what the fit has more of comes after them, and more is waited for until it is whole', () => {
  const before = project({ refit: true, filters: [own(400, true)] });
  const after = filledIn(before, fitted(400, 50, 60), false);
  expect(placesOf(after)).toEqual([400, 50, 60]);
  expect(after.refit).toBe(true);
});

test('a held filter is known again in the nearest values that a device has, and is there once', () => {
  const device = readDevice(
    JSON.stringify({
      name: 'coarse',
      sampleRatesHz: [48000],
      bands: [{ types: ['peaking'], count: 3 }],
      gainDb: { min: -12, max: 6, step: 0.5 },
      frequencyHz: { min: 20, max: 20000, perOctave: 3 },
      q: { min: 0.5, max: 8, step: 0.5 },
      qConvention: 'cookbook',
    }),
    'coarse.json',
  );
  const before = project({ refit: true, filters: [own(410, true)] });
  const after = filledIn(before, fitted(400, 50, 1000 * 2 ** (-4 / 3)), true, device);
  expect(placesOf(after)).toEqual([410, 50, 400]);
});

test('with nothing held the fit has its own filters shown', () => {
  const after = filledIn(project({ refit: true, filters: [own(400, false)] }), fitted(50), true);
  expect(after.filters).toBeUndefined();
  expect(after.refit).toBeUndefined();
});

test('a project that waits for no fit stays as it is', () => {
  const before = project({ filters: [own(400, false)] });
  expect(filledIn(before, fitted(50), true)).toBe(before);
});

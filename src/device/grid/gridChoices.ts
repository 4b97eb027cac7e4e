import { log2 } from '../../elementary/logarithm.js';
import { fixedSlots, freeSlots } from '../profile/bandSlots.js';
import type { DeviceProfile, DeviceRange } from '../profile/deviceProfile.js';
import { allValues, isContinuous } from '../profile/deviceValues.js';
import { type DeviceBounds, frequencyRange } from '../stored/deviceBank.js';

/** The values that the search on the grid chooses from, ascending; none of the gains is 0. */
export interface GridChoices {
  readonly frequencyHz: readonly number[];
  readonly gainDb: readonly number[];
  /** On the scale of the device's convention. */
  readonly q: readonly number[];
}

/** Grids for numbers that a device takes as they come: finer than any ear or measurement. */
const FREQUENCIES_PER_OCTAVE = 48;
const GAIN_STEP_DB = 0.05;
const QS_PER_OCTAVE = 12;

export function gridChoices(bounds: DeviceBounds): GridChoices {
  const { device, limits } = bounds;
  const free = freeSlots(device).length > 0 ? valuesOf(frequencyRange(bounds), 'frequencyHz') : [];
  const fixed = fixedSlots(device)
    .map(({ frequencyHz }) => frequencyHz)
    .filter((hz) => hz >= limits.minFrequencyHz && hz <= limits.maxFrequencyHz);
  return {
    frequencyHz: [...new Set([...free, ...fixed])].sort((a, b) => a - b),
    gainDb: valuesOf(device.gainDb, 'gainDb').filter(
      (db) => db !== 0 && db <= limits.maxBoostDb + 1e-9 && db >= -limits.maxCutDb - 1e-9,
    ),
    q: valuesOf(device.q, 'q'),
  };
}

function valuesOf(range: DeviceRange, number: 'frequencyHz' | 'gainDb' | 'q'): number[] {
  if (!isContinuous(range)) return allValues(range);
  if (number === 'gainDb') return allValues({ ...range, step: GAIN_STEP_DB });
  const perOctave = number === 'q' ? QS_PER_OCTAVE : FREQUENCIES_PER_OCTAVE;
  const inside = allValues({ ...range, perOctave }).map((value) => Number(value.toPrecision(5)));
  return inside.length > 0 ? inside : [range.min];
}

/** Neighbours nearer than this do nearly the same. */
const APART = { frequencyOctaves: 1 / 8, gainDb: 0.5, qOctaves: 1 / 8 };

/** The choices with those left out that do nearly the same as their neighbours; frequencies of fixed bands stay. */
export function thinnedChoices({ frequencyHz, gainDb, q }: GridChoices, device: DeviceProfile): GridChoices {
  const fixed = new Set(fixedSlots(device).map((slot) => slot.frequencyHz));
  const few = thinned(frequencyHz, (a, b) => log2(b / a) >= APART.frequencyOctaves * 0.999);
  return {
    frequencyHz: frequencyHz.filter((hz) => fixed.has(hz) || few.includes(hz)),
    gainDb: thinned(gainDb, (a, b) => b - a >= APART.gainDb * 0.999),
    q: thinned(q, (a, b) => log2(b / a) >= APART.qOctaves * 0.999),
  };
}

function thinned(values: readonly number[], isFar: (a: number, b: number) => boolean): number[] {
  const kept: number[] = [];
  for (const value of values) if (kept.length === 0 || isFar(kept.at(-1)!, value)) kept.push(value);
  return kept;
}

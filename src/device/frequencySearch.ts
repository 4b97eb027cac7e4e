import { type Bands, filtersFromBands, PEAKING, withBand, withoutBand } from '../fit/bands.js';
import type { Bounds } from '../fit/bounds.js';
import { candidates, type Dictionary } from '../fit/dictionary.js';
import { type Objective, objectiveValue } from '../fit/objective.js';
import { type Refined, refine } from '../fit/refine.js';
import { type DeviceBounds, frequenciesAround, frequencyRange } from './deviceBank.js';
import { steppedValue } from './deviceValues.js';

/** What the frequencies of a bank are sought with. */
export interface FrequencySearch {
  readonly device: DeviceBounds;
  readonly objective: Objective;
  readonly bounds: Bounds;
  readonly dictionary: Dictionary;
  readonly maxBands: number;
  /** Whether a bank of these types can be had from the device. */
  readonly isAllowed: (bands: Bands) => boolean;
}

/** Frequencies stay where they are, gain and Q settle. */
const SETTLE = { maxIterations: 8, tolerance: 1e-3, frozen: (j: number) => j % 3 === 0 };
const SETTLE_WELL = { ...SETTLE, maxIterations: 30, tolerance: 1e-5 };
/** An improvement smaller than this share is not worth a move … */
const WORTHWHILE = 0.999;
/** … nor one of this share worth a band more. */
const WORTH_A_BAND = 0.97;
const MAX_TRIALS = 600;
const KEPT = 4;

/**
 * Puts every frequency on the device's grid while gain and Q are still free, one after the other, the rest refitted
 * after each; then moves bands by a step, or takes one out and puts it in elsewhere, as long as that helps.
 *
 * @returns the few best banks found, the best first
 */
export function searchFrequencies(search: FrequencySearch, start: Bands): Bands[] {
  return [snapOneByOne(search, start, () => false), snapAtOnce(search, start)]
    .flatMap((snapped) => improve(search, settleWell(search, snapped)))
    .sort((a, b) => a.value - b.value)
    .slice(0, KEPT)
    .map(({ bands }) => bands);
}

/** Every frequency to its nearest value. */
function snapAtOnce({ device }: FrequencySearch, { types, values }: Bands): Bands {
  const nearest = (lnF: number) =>
    frequenciesAround(device, Math.exp(lnF))
      .map((hz) => Math.log(hz))
      .reduce((a, b) => (Math.abs(b - lnF) < Math.abs(a - lnF) ? b : a));
  return { types, values: values.map((value, j) => (j % 3 === 0 ? nearest(value) : value)) };
}

function improve(search: FrequencySearch, start: Refined): Refined[] {
  let current = start;
  const kept: Refined[] = [current];
  let trials = 0;
  for (let improved = true; improved && trials < MAX_TRIALS; ) {
    improved = false;
    for (const move of movesOf(search, current.bands)) {
      if (++trials > MAX_TRIALS) break;
      const settled = refine(search.objective, move.bands, search.bounds, SETTLE);
      if (settled.value >= current.value * move.share) continue;
      current = settleWell(search, settled.bands);
      kept.unshift(current);
      improved = true;
      break;
    }
  }
  return kept.slice(0, KEPT);
}

function settleWell({ objective, bounds }: FrequencySearch, bands: Bands): Refined {
  return refine(objective, bands, bounds, SETTLE_WELL);
}

/** The frequency that is farthest from the grid first, since the others can still make up for it. */
export function snapOneByOne(
  search: Pick<FrequencySearch, 'device' | 'objective' | 'bounds'>,
  start: Bands,
  isFixed: (band: number) => boolean,
): Bands {
  const done = new Set<number>(Array.from(start.types.keys()).filter(isFixed));
  let bands = start;
  while (done.size < start.types.length) {
    const open = Array.from(bands.types.keys()).filter((i) => !done.has(i));
    const near = (i: number) =>
      frequenciesAround(search.device, Math.exp(bands.values[3 * i]!)).map((hz) => Math.log(hz));
    const distance = (i: number) => Math.min(...near(i).map((lnF) => Math.abs(lnF - bands.values[3 * i]!)));
    const next = open.reduce((a, b) => (distance(b) > distance(a) ? b : a));
    done.add(next);
    const frozen = (j: number) => j % 3 === 0 && done.has(j / 3);
    bands = near(next)
      .map((lnF) =>
        refine(search.objective, withValue(bands, 3 * next, lnF), search.bounds, { ...SETTLE, frozen }),
      )
      .reduce((a, b) => (b.value < a.value ? b : a)).bands;
  }
  return bands;
}

interface FrequencyMove {
  readonly bands: Bands;
  /** It is taken where it brings the objective below this share of what it was. */
  readonly share: number;
}

function* movesOf(search: FrequencySearch, bands: Bands): Generator<FrequencyMove> {
  const range = frequencyRange(search.device);
  const at = (i: number) => filtersFromBands(bands)[i]!.frequencyHz;
  for (const i of bands.types.keys()) {
    for (const steps of [1, -1]) {
      const near = frequenciesAround(search.device, at(i));
      const nearest = near.reduce((a, b) => (Math.abs(b - at(i)) < Math.abs(a - at(i)) ? b : a));
      const hz = steppedValue(range, nearest, steps);
      if (hz !== undefined) yield { bands: withValue(bands, 3 * i, Math.log(hz)), share: WORTHWHILE };
    }
  }
  if (bands.types.length < search.maxBands)
    for (const more of insertions(search, bands, 3)) yield { bands: more, share: WORTH_A_BAND };
  for (const i of bands.types.keys()) {
    const { bands: rest } = refine(search.objective, withoutBand(bands, i), search.bounds, SETTLE);
    for (const again of insertions(search, rest, 3)) yield { bands: again, share: WORTHWHILE };
  }
}

/** The bank with one more band, on the grid, where much error remains. */
function insertions(
  { device, objective, bounds, dictionary, isAllowed }: FrequencySearch,
  bands: Bands,
  count: number,
): Bands[] {
  objectiveValue(objective, bands);
  const found = candidates(
    dictionary,
    objective.grid,
    bounds,
    objective.residual,
    objective.eqDb,
    bands.types,
    count + 2,
  );
  return found
    .flatMap(({ type, lnF, gainDb, lnQ }) =>
      frequenciesAround(device, Math.exp(lnF))
        .slice(0, type === PEAKING ? 2 : 1)
        .map((hz) => withBand(bands, type, Math.log(hz), gainDb, lnQ)),
    )
    .filter(isAllowed)
    .slice(0, 2 * count);
}

function withValue(bands: Bands, j: number, value: number): Bands {
  const values = bands.values.slice();
  values[j] = value;
  return { types: bands.types, values };
}

import { exp } from '../../elementary/exponential.js';
import { log } from '../../elementary/logarithm.js';
import type { Filter } from '../../filter/filter.js';
import { qConventions, settingFromFilter } from '../../filter/qConventions.js';
import { type Bands, filtersFromBands } from '../../fit/bank/bands.js';
import { type Bounds, boundsOf } from '../../fit/bank/bounds.js';
import { normalEquations } from '../../fit/kernel/typescript/linearize.js';
import type { Objective } from '../../fit/objective/objective.js';
import { fullGrid } from '../../fit/problem/fitGrid.js';
import type { FitProblem } from '../../fit/problem/fitProblem.js';
import { refine } from '../../fit/refinement/refine.js';
import { fixedSlots } from '../profile/bandSlots.js';
import { isContinuous, valuesAround } from '../profile/deviceValues.js';
import {
  bandsOf,
  type DeviceBand,
  type DeviceBounds,
  filterOf,
  frequenciesAround,
  gainsAround,
  qSettingsAround,
} from '../stored/deviceBank.js';
import { deviceObjective } from '../stored/deviceObjective.js';

/** Frequencies at their nearest values, the other numbers fixed one after the other. */
export function settledOnGrid(problem: FitProblem, device: DeviceBounds, start: Bands): DeviceBand[] {
  const fixedHz = fixedSlots(device.device).map(({ frequencyHz }) => frequencyHz);
  const filters = filtersFromBands(start);
  const isFixed = (band: number) =>
    fixedHz.some((hz) => Math.abs(hz - filters[band]!.frequencyHz) < 1e-6 * hz);
  const objective = deviceObjective(problem, fullGrid(problem), start.types.length);
  const values = start.values.map((lnF, j) => {
    if (j % 3 !== 0 || isFixed(j / 3)) return lnF;
    const near = frequenciesAround(device, exp(lnF)).map((hz) => log(hz));
    return near.reduce((a, b) => (Math.abs(b - lnF) < Math.abs(a - lnF) ? b : a));
  });
  const bands = { types: start.types, values };
  return fixOneByOne({ device, objective, bounds: boundsOf(problem.limits), isFixed }, bands);
}

interface GridSearch {
  readonly device: DeviceBounds;
  readonly objective: Objective;
  readonly bounds: Bounds;
  /** Frequencies that are the band's own and not the device's choice, by the band's place in the bank. */
  readonly isFixed: (band: number) => boolean;
}

const REFIT = { maxIterations: 8, tolerance: 1e-4 };

/**
 * Fixes gains, then Qs, on the device's grid one after the other, the costliest first, refitting what is still free
 * after each. Frequencies must be on the grid.
 */
function fixOneByOne({ device, objective, bounds, isFixed }: GridSearch, start: Bands): DeviceBand[] {
  let bands = start;
  const settings = new Map<number, number>();
  const ownFrequency = (i: number) => isFixed(i) || !isContinuous(device.device.frequencyHz);
  const fixed = new Set(Array.from(bands.types.keys(), (i) => 3 * i).filter((j) => ownFrequency(j / 3)));
  const frozen = (j: number) => fixed.has(j);
  for (const kind of kindsToFix(device)) {
    const around = (i: number) => {
      const filter = filtersFromBands(bands)[i]!;
      return kind === 1 ? gainsAround(device, filter) : qSettingsAround(device, filter);
    };
    const optimizerValue = (i: number, value: number) => {
      if (kind === 1) return value;
      const { type, frequencyHz, gainDb } = filtersFromBands(bands)[i]!;
      const bank = bandsOf(device, [{ type, frequencyHz, gainDb: exactGain(settings, i, gainDb), q: value }]);
      return bank ? bank.values[2]! : bands.values[3 * i + 2]!;
    };
    const open = new Set(bands.types.keys());
    while (open.size > 0) {
      const next = costliest(objective, bands, open, kind, (i) => around(i).map((v) => optimizerValue(i, v)));
      open.delete(next);
      const j = 3 * next + kind;
      fixed.add(j);
      const tried = around(next).map((value) => {
        const values = bands.values.slice();
        values[j] = optimizerValue(next, value);
        return {
          value,
          refined: refine(objective, { types: bands.types, values }, bounds, { ...REFIT, frozen }),
        };
      });
      const best = tried.sort((a, b) => a.refined.value - b.refined.value)[0];
      if (!best) continue;
      settings.set(j, best.value);
      bands = best.refined.bands;
    }
  }
  bands = refine(objective, bands, bounds, { ...REFIT, maxIterations: 20, frozen }).bands;
  return filtersFromBands(bands).map((filter, i) => {
    const gainDb = settings.get(3 * i + 1) ?? Number(filter.gainDb.toFixed(3)) + 0;
    const frequencyHz = isFixed(i)
      ? Number(filter.frequencyHz.toPrecision(12))
      : onGrid(device, filter.frequencyHz);
    const q = settings.get(3 * i + 2) ?? freeSetting(device, { ...filter, frequencyHz, gainDb });
    const band = { type: filter.type, frequencyHz, gainDb, q };
    // What the device cannot be made to do with any setting near is switched off.
    return filterOf(device, band) ? band : { ...band, gainDb: 0 };
  });
}

/** Gains and Qs that have a grid; of two, gains first, since they are the coarser. */
function kindsToFix({ device }: DeviceBounds): (1 | 2)[] {
  const kinds = [
    ...(isContinuous(device.gainDb) ? [] : [1 as const]),
    ...(isContinuous(device.q) ? [] : [2 as const]),
  ];
  // Where a setting of Q means another filter at another gain, the gain cannot move any more once Q is fixed.
  return kinds[0] === 2 && qConventions[device.qConvention].hangsOn.includes('gain') ? [1, 2] : kinds;
}

/** The setting of a Q that was not fixed: to five figures where the device has any. */
function freeSetting({ device, sampleRateHz }: DeviceBounds, filter: Filter): number {
  const exact = settingFromFilter(filter, device.qConvention, sampleRateHz) ?? filter.q;
  return isContinuous(device.q)
    ? Number(Math.min(Math.max(exact, device.q.min), device.q.max).toPrecision(5))
    : valuesAround(device.q, exact)[0]!;
}

const exactGain = (settings: ReadonlyMap<number, number>, i: number, gainDb: number) =>
  settings.get(3 * i + 1) ?? gainDb;

/** What logarithm and exponential have blurred. */
function onGrid(device: DeviceBounds, frequencyHz: number): number {
  if (isContinuous(device.device.frequencyHz)) return Number(frequencyHz.toPrecision(5));
  return frequenciesAround(device, frequencyHz).reduce((a, b) =>
    Math.abs(b - frequencyHz) < Math.abs(a - frequencyHz) ? b : a,
  );
}

/** The band whose number, moved to the nearest value of the grid, would cost most if nothing made up for it. */
function costliest(
  objective: Objective,
  bands: Bands,
  open: ReadonlySet<number>,
  kind: 1 | 2,
  around: (i: number) => number[],
): number {
  normalEquations(objective, bands);
  const n = bands.values.length;
  const cost = (i: number) => {
    const j = 3 * i + kind;
    const distance = Math.min(...around(i).map((value) => Math.abs(value - bands.values[j]!)));
    return objective.normalMatrix[j * n + j]! * distance * distance;
  };
  return [...open].reduce((a, b) => (cost(b) > cost(a) ? b : a));
}

import { nearestPlace } from '../../curve/nearestPlace.js';
import { log } from '../../elementary/logarithm.js';
import type { FilterType } from '../../filter/filter.js';
import { typeCode } from '../../fit/bank/bands.js';
import { fitsSlots } from '../../fit/bank/fitsSlots.js';
import { FIRM_PENALTY, LEVEL_RESTRAINT } from '../../fit/finish/exactLimits.js';
import { fitGrid } from '../../fit/problem/fitGrid.js';
import type { FitProblem } from '../../fit/problem/fitProblem.js';
import { seededRandom } from '../../fit/seededRandom.js';
import { placesFor } from '../profile/assignSlots.js';
import { fixedSlots, freeSlots, typesOf } from '../profile/bandSlots.js';
import type { DeviceBand, DeviceBounds } from '../stored/deviceBank.js';
import { createBandTable, type GridBand } from './bandTable.js';
import { createGridAtoms, type GridAtoms } from './gridAtoms.js';
import { type GridChoices, gridChoices, thinnedChoices } from './gridChoices.js';
import { createGridCost } from './gridCost.js';
import {
  descend,
  descendInPairs,
  type GridBank,
  type GridSpace,
  NEAR_MOVES,
  WIDE_MOVES,
} from './gridDescent.js';
import { hop, inserted } from './gridHops.js';
import { plainestOnGrid } from './plainestOnGrid.js';

/** Every third point of 48 an octave in the search, every other one at its end. */
const SEARCH = { stride: 3, moves: WIDE_MOVES };
const FINISH = { stride: 2, moves: NEAR_MOVES };
/** A band whose loss raises the objective by less than this is not worth having. */
const WORTHLESS = 1.004;

/**
 * Searches a device's grid itself for the best bank, with tabulated responses: from the banks given and from one
 * that is built up on the grid, by moving all numbers of one and of two bands, and by taking bands out and putting
 * others in (see gridHops.ts). Ends with all the values that the device has, and among equals with the plainest bank.
 *
 * @param starts need not be on the grid; hops begin from the first
 * @param effort.hops from that and from the one built up; with 0 the starts are only brought to the nearest banks that
 *   are best among their like
 * @param effort.inPairs whether two bands are moved at once at the end
 */
export function searchGrid(
  problem: FitProblem,
  bounds: DeviceBounds,
  starts: readonly (readonly DeviceBand[])[],
  maxBands: number,
  { hops, inPairs }: { readonly hops: number; readonly inPairs: boolean },
): readonly DeviceBand[] {
  const all = gridChoices(bounds);
  const few = thinnedChoices(all, bounds.device);
  const random = seededRandom(1);
  const banks = [...starts];
  if (hops > 0) {
    const space = spaceOf(problem, bounds, few, maxBands, SEARCH);
    const atoms = createGridAtoms(space.table, typesFor(problem, bounds));
    const ends = [descend(space, placed(space, starts[0]!)), grown(space, atoms)].map((bank) =>
      hop(space, atoms, bank, hops, random),
    );
    banks.push(...ends.map((bank) => withoutWorthless(space, bank).bands.map(space.table.settingOf)));
  }
  const space = spaceOf(problem, bounds, all, maxBands, FINISH);
  const ends = banks.map((bank) => descend(space, placed(space, bank)));
  const best = ends.reduce((a, b) => (b.value < a.value ? b : a));
  const inPairsToo = inPairs ? [descendInPairs(space, best.bands), ...ends] : ends;
  return plainestOnGrid(space, bounds, inPairsToo).bands.map(space.table.settingOf);
}

function spaceOf(
  problem: FitProblem,
  bounds: DeviceBounds,
  choices: GridChoices,
  maxBands: number,
  { stride, moves }: { readonly stride: number; readonly moves: GridSpace['moves'] },
): GridSpace {
  const cost = createGridCost(fitGrid(problem, stride), {
    levelDb: problem.levelDb,
    maxLevelLossDb: problem.limits.maxLevelLossDb,
    penalty: FIRM_PENALTY,
    levelRestraint: LEVEL_RESTRAINT,
  });
  const { device } = bounds;
  const slots = freeSlots(device).map((slot) => slot.map(typeCode));
  const hasFixed = fixedSlots(device).length > 0;
  const table = createBandTable(bounds, choices, cost);
  return {
    table,
    cost,
    maxBands,
    moves,
    isAllowed: (bands) =>
      hasFixed
        ? placesFor(bands.map(table.settingOf), device) !== undefined
        : fitsSlots(
            bands.map(({ type }) => typeCode(type)),
            slots,
          ),
  };
}

function typesFor({ limits }: FitProblem, { device }: DeviceBounds): FilterType[] {
  const free = freeSlots(device).length > 0 ? limits.types : [];
  return typesOf([free, ...fixedSlots(device).map(({ type }) => [type])]);
}

/** Gains beside the nearest one, where the device cannot have that: a convention may speak of greater ones only. */
const OTHER_GAINS = [0, 1, -1, 2, -2, 4, -4, 8, -8];

/** The bank with every number at the nearest choice; bands that there is no choice for are left out. */
function placed(space: GridSpace, bank: readonly DeviceBand[]): GridBand[] {
  const { choices, responseOf } = space.table;
  const possible = bank
    .filter(({ gainDb }) => gainDb !== 0)
    .map(({ type, frequencyHz, gainDb, q }) => ({
      type,
      frequency: nearestPlace(choices.frequencyHz, frequencyHz, log),
      gain: nearestPlace(choices.gainDb, gainDb),
      q: nearestPlace(choices.q, q, log),
    }))
    .flatMap(
      (band) =>
        OTHER_GAINS.map((steps) => ({ ...band, gain: band.gain + steps })).find((other) =>
          responseOf(other),
        ) ?? [],
    );
  const kept: GridBand[] = [];
  for (const band of possible) if (space.isAllowed([...kept, band])) kept.push(band);
  return kept;
}

/** One band after the other where it helps most, all settling on the grid after each. */
function grown(space: GridSpace, atoms: GridAtoms): GridBank {
  let bank = descend(space, []);
  while (bank.bands.length < space.maxBands) {
    const more = inserted(space, atoms, bank.bands, () => 1);
    if (!more) break;
    const next = descend(space, more);
    if (next.value * WORTHLESS >= bank.value) break;
    bank = next;
  }
  return bank;
}

function withoutWorthless(space: GridSpace, start: GridBank): GridBank {
  let bank = start;
  for (let i = bank.bands.length - 1; i >= 0; i--) {
    const fewer = descend(
      space,
      bank.bands.filter((_, k) => k !== i),
    );
    if (fewer.value <= bank.value * WORTHLESS) bank = fewer;
  }
  return bank;
}

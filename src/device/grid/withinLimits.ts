import { pow } from '../../elementary/power.js';
import { filtersFromBands, NO_BANDS } from '../../fit/bank/bands.js';
import { holds } from '../../fit/finish/exactLimits.js';
import { type Excess, type ExcessByLimit, excessByLimit, measureExcess } from '../../fit/objective/excess.js';
import type { FitProblem } from '../../fit/problem/fitProblem.js';
import { steppedValue, valuesAround } from '../profile/deviceValues.js';
import { bandsOf, type DeviceBand, type DeviceBounds, filterOf } from '../stored/deviceBank.js';
import { realError } from '../stored/realError.js';
import { type StoredBank, storedBank } from '../stored/storedBank.js';

type DeviceBank = readonly DeviceBand[];

const ROUNDS = 5;
/** By how much more a limit is drawn in, round by round: steps pass over what would be just enough. */
const MORE_EACH_ROUND = 3;
/** A bank within the limits whose error is no more than this above that of one outside will do. */
const GOOD_ENOUGH = 1.003;
/** Steps from the whole bank to none when gains are taken back, the first ones small. */
const SHRINKING_STEPS = 60;

/**
 * A bank near the one given that keeps every limit exactly, as the device will do it: limits that give way are drawn
 * in and the grid searched again, single numbers are moved by a step, and where all that is in vain, gains are taken
 * back. No EQ always fits.
 *
 * @param steps.again searches from a bank under limits that have been drawn in, with so many bands at most; may hand the
 *   bank back where there is nothing to search
 * @param steps.lost told of bands that the device's number format cannot hold, or holds so badly that they do harm; they are
 *   left out
 */
export function withinLimits(
  problem: FitProblem,
  bounds: DeviceBounds,
  start: DeviceBank,
  steps: {
    readonly again: (drawnIn: FitProblem, bank: DeviceBank, maxBands: number) => DeviceBank;
    readonly lost: (bands: StoredBank['fits']) => void;
  },
): DeviceBank {
  const untouched = measureExcess(problem, NO_BANDS);
  const isWithin = (bank: DeviceBank) => {
    const excess = excessOf(problem, bounds, bank);
    return excess !== undefined && holds(excess, untouched, 0);
  };
  const limitsOf = (bank: DeviceBank) =>
    excessByLimit(problem, bandsOf(bounds, bank)!, storedOf(bounds, bank).deviationDb);
  const errorOf = (bank: DeviceBank) =>
    realError(problem, filtersFromBands(bandsOf(bounds, bank)!), storedOf(bounds, bank).deviationDb).rmsDb;
  const kept: Kept[] = [];
  let drawnIn = problem;
  let bank = start.filter(isOn);
  let most = Number.POSITIVE_INFINITY;
  for (let round = 0; round < ROUNDS; ) {
    const { impossible, fits } = storedOf(bounds, bank);
    if (impossible.length > 0) {
      steps.lost(impossible.map((i) => fits[i]!));
      bank = bank.filter((_, i) => !impossible.includes(i));
      most = bank.length;
      bank = steps.again(drawnIn, bank, most).filter(isOn);
      continue;
    }
    const excess = excessOf(problem, bounds, bank)!;
    const error = errorOf(bank);
    if (holds(excess, untouched, 0)) {
      kept.push({ bank, error });
      break;
    }
    const beside = besideIt(bounds, bank)
      .map((other) => ({ bank: other, error: errorOf(other) }))
      .sort((a, b) => a.error - b.error)
      .find((other) => isWithin(other.bank));
    if (beside) kept.push(beside);
    if (beside && beside.error <= error * GOOD_ENOUGH) break;
    drawnIn = drawIn(drawnIn, limitsOf(bank), pow(MORE_EACH_ROUND, round));
    const next = steps.again(drawnIn, bank, most).filter(isOn);
    if (next.length === bank.length && next.every((band, i) => band === bank[i])) break;
    bank = next;
    round++;
  }
  const withError = (bank: DeviceBank): Kept => ({ bank, error: errorOf(bank) });
  const change = { isWithin, withError };
  const found = kept.length === 0 ? withError(shrunk(bounds, bank, isWithin)) : best(kept);
  if (kept.length > 0 && !hasFormat(bounds)) return found.bank;
  const end = best([withoutHarmful(found, change), builtUp(bank, change)]).bank;
  const gone = bank.filter((band) => !end.some((other) => isSamePlace(other, band)));
  steps.lost(storedOf(bounds, gone).fits.filter(({ warnings }) => warnings.length > 0));
  return end;
}

const isSamePlace = (a: DeviceBand, b: DeviceBand) => a.type === b.type && a.frequencyHz === b.frequencyHz;

interface Kept {
  readonly bank: DeviceBank;
  readonly error: number;
}

const best = (banks: readonly Kept[]) => banks.reduce((a, b) => (b.error < a.error ? b : a));

const hasFormat = ({ device }: DeviceBounds) => device.coefficients?.fixedPoint !== undefined;

interface Change {
  readonly isWithin: (bank: DeviceBank) => boolean;
  readonly withError: (bank: DeviceBank) => Kept;
}

/** Leaves out bands, the worst first, as long as that leaves less error: coefficients may be stored worse than a band mends. */
function withoutHarmful(start: Kept, change: Change): Kept {
  const fewer = start.bank.map((_, i) => start.bank.filter((_, k) => k !== i));
  const next = bestBelow(start, fewer, change);
  return next ? withoutHarmful(next, change) : start;
}

/** From nothing, the band of a bank that helps most, as long as one helps and the limits hold. */
function builtUp(bank: DeviceBank, change: Change, start: Kept = change.withError([])): Kept {
  const more = bank.filter((band) => !start.bank.includes(band)).map((band) => [...start.bank, band]);
  const next = bestBelow(start, more, change);
  return next ? builtUp(bank, change, next) : start;
}

function bestBelow({ error }: Kept, banks: readonly DeviceBank[], { isWithin, withError }: Change) {
  return banks
    .map(withError)
    .sort((a, b) => a.error - b.error)
    .find((other) => other.error < error && isWithin(other.bank));
}

/** A band at 0 dB is none. */
const isOn = ({ gainDb }: DeviceBand) => gainDb !== 0;

/** Less than a step of any device moves, and more than rounding. */
const MARGIN_DB = 0.002;

/** The problem with every limit drawn in where it gives way: caps at their own points, zones one by one. */
function drawIn(problem: FitProblem, excess: ExcessByLimit, factor: number): FitProblem {
  const by = (overDb: number) => (overDb > 0 ? factor * (overDb + MARGIN_DB) : 0);
  return {
    ...problem,
    capDb: problem.capDb.map((cap, i) => cap - by(excess.capDb[i]!)),
    zones: problem.zones.map((zone, z) => ({
      ...zone,
      maxRiseDb: zone.maxRiseDb - by(excess.zoneRiseDb[z]!),
      maxFallDb: zone.maxFallDb - by(excess.zoneFallDb[z]!),
    })),
    limits: {
      ...problem.limits,
      maxLevelLossDb: problem.limits.maxLevelLossDb - by(excess.levelLossDb),
    },
  };
}

/** Undefined where the device cannot have such a bank. */
function excessOf(problem: FitProblem, bounds: DeviceBounds, bank: DeviceBank): Excess | undefined {
  const bands = bandsOf(bounds, bank);
  if (!bands) return undefined;
  const stored = storedOf(bounds, bank);
  return stored.impossible.length > 0 ? undefined : measureExcess(problem, bands, stored.deviationDb);
}

/** The banks in which one gain or one Q is a step or two away. */
function besideIt(bounds: DeviceBounds, bank: DeviceBank): DeviceBank[] {
  const { gainDb, q } = bounds.device;
  return bank.flatMap((band, i) =>
    [-2, -1, 1, 2]
      .flatMap((steps): DeviceBand[] => {
        const gain = steppedValue(gainDb, band.gainDb, steps);
        const width = steppedValue(q, band.q, steps);
        return [
          ...(gain === undefined || gain === 0 ? [] : [{ ...band, gainDb: gain }]),
          ...(width === undefined ? [] : [{ ...band, q: width }]),
        ];
      })
      .filter((other) => filterOf(bounds, other) !== undefined)
      .map((other) => bank.with(i, other)),
  );
}

/** Takes gains back until every limit holds: the boosts, the cuts, or all, whichever needs least. */
function shrunk(bounds: DeviceBounds, bank: DeviceBank, isWithin: (bank: DeviceBank) => boolean): DeviceBank {
  for (let step = 0; step < SHRINKING_STEPS; step++) {
    const share = 1 - (step / SHRINKING_STEPS) ** 2;
    for (const [boost, cut] of [
      [share, 1],
      [1, share],
      [share, share],
    ] as const) {
      const candidate = bank
        .map((band) => ({
          ...band,
          gainDb: towardsZero(bounds, band.gainDb, band.gainDb > 0 ? boost : cut),
        }))
        .filter(isOn);
      if (isWithin(candidate)) return candidate;
    }
  }
  return [];
}

function towardsZero({ device }: DeviceBounds, gainDb: number, share: number): number {
  if (share === 1) return gainDb;
  const near = valuesAround(device.gainDb, gainDb * share);
  return near.reduce((a, b) => (Math.abs(b) < Math.abs(a) ? b : a), gainDb);
}

function storedOf(bounds: DeviceBounds, bank: DeviceBank): StoredBank {
  const filters = bank.map((band) => filterOf(bounds, band)!);
  return storedBank(filters, bounds.device, bounds.sampleRateHz);
}

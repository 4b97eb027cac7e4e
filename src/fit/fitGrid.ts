import type { FitProblem } from './fitProblem.js';

/** A protected zone as indices into the grid. */
export interface GridZone {
  readonly first: number;
  readonly last: number;
  readonly maxFallDb: number;
}

/**
 * The problem laid out for the kernel: `errorPoints` points that carry error come first (the range), then guard
 * points outside the range where only the cap counts.
 */
export interface FitGrid {
  readonly sampleRateHz: number;
  readonly frequencyHz: Float64Array;
  readonly errorPoints: number;
  /** tan²(ω/2): the squared prewarped frequency. */
  readonly warped: Float64Array;
  readonly deviationDb: Float64Array;
  /** Weight of the squared error; sums to 1. */
  readonly weight: Float64Array;
  readonly capDb: Float64Array;
  readonly zones: readonly GridZone[];
  /** Share of each range point in the mean of the EQ; sums to 1. */
  readonly meanShare: Float64Array;
}

/**
 * @param stride keep every n-th point of the range; 1 keeps all. The search runs on a coarser grid than the finish.
 */
export function fitGrid(problem: FitProblem, stride: number): FitGrid {
  const range = everyNth(problem.frequencyHz.length, stride);
  const guard = guardIndices(problem);
  const frequencyHz = Float64Array.from([
    ...range.map((i) => problem.frequencyHz[i]!),
    ...guard.map((i) => problem.capFrequencyHz[i]!),
  ]);
  const errorPoints = range.length;
  const weight = normalised(range.map((i) => problem.weight[i]!));
  const capDb = Float64Array.from(frequencyHz, (hz) => capAt(problem, hz));
  const zones = problem.zones.flatMap((zone): GridZone[] => {
    const first = range.findIndex((i) => problem.frequencyHz[i]! >= zone.fromHz);
    const last = range.findLastIndex((i) => problem.frequencyHz[i]! <= zone.toHz);
    if (first < 0 || last <= first) return [];
    for (let p = first; p <= last; p++) capDb[p] = Math.min(capDb[p]!, zone.maxRiseDb);
    return [{ first, last, maxFallDb: zone.maxFallDb }];
  });
  return {
    sampleRateHz: problem.sampleRateHz,
    frequencyHz,
    errorPoints,
    warped: frequencyHz.map((hz) => Math.tan((Math.PI * hz) / problem.sampleRateHz) ** 2),
    deviationDb: Float64Array.from(range, (i) => problem.deviationDb[i]!),
    weight,
    capDb,
    zones,
    meanShare: logTrapezoid(frequencyHz.subarray(0, errorPoints)),
  };
}

/** The cap between its own points, linear in log frequency; constant beyond the ends. */
export function capAt(problem: FitProblem, hz: number): number {
  const { capFrequencyHz, capDb } = problem;
  const n = capFrequencyHz.length;
  if (hz <= capFrequencyHz[0]!) return capDb[0]!;
  if (hz >= capFrequencyHz[n - 1]!) return capDb[n - 1]!;
  let low = 0;
  let high = n - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (capFrequencyHz[middle]! <= hz) low = middle;
    else high = middle;
  }
  const t = Math.log(hz / capFrequencyHz[low]!) / Math.log(capFrequencyHz[high]! / capFrequencyHz[low]!);
  return capDb[low]! + t * (capDb[high]! - capDb[low]!);
}

function everyNth(length: number, stride: number): number[] {
  const indices: number[] = [];
  for (let i = 0; i < length; i += stride) indices.push(i);
  if (indices.at(-1) !== length - 1) indices.push(length - 1);
  return indices;
}

function guardIndices({ frequencyHz, capFrequencyHz }: FitProblem): number[] {
  const fromHz = frequencyHz[0]!;
  const toHz = frequencyHz.at(-1)!;
  return Array.from(capFrequencyHz.keys()).filter(
    (i) => capFrequencyHz[i]! < fromHz || capFrequencyHz[i]! > toHz,
  );
}

function normalised(values: readonly number[]): Float64Array {
  const sum = values.reduce((total, value) => total + value, 0);
  return Float64Array.from(values, (value) => (sum > 0 ? value / sum : 0));
}

/** Shares by the trapezoid rule in log frequency, so that every octave weighs the same. */
function logTrapezoid(frequencyHz: Float64Array): Float64Array {
  const n = frequencyHz.length;
  const shares = frequencyHz.map((_, i) =>
    Math.log(frequencyHz[Math.min(i + 1, n - 1)]! / frequencyHz[Math.max(i - 1, 0)]!),
  );
  return normalised(Array.from(shares));
}

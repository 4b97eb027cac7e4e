import { lowerIndex } from '../../curve/lowerIndex.js';
import { exp } from '../../elementary/exponential.js';
import { log, log2 } from '../../elementary/logarithm.js';
import { pow } from '../../elementary/power.js';
import { tan } from '../../elementary/sine.js';
import type { FitProblem, ProtectedZone } from './fitProblem.js';

/** A protected zone as indices into the grid: its two edges and the points between them. */
export interface GridZone {
  readonly edges: readonly [number, number];
  readonly inside: readonly number[];
  readonly maxFallDb: number;
}

/** Guard points in a zone where the range leaves it; a zone may reach beyond the range or fit between its points. */
const ZONE_POINTS_PER_OCTAVE = 24;

/**
 * The problem laid out for the kernel: `errorPoints` points that carry error come first (the range), then guard
 * points where only the limits count: outside the range, and at the edges of protected zones.
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
  const errorPoints = range.length;
  const zoneGuards = problem.zones.map((zone) => zoneGuardHz(zone, problem));
  const frequencyHz = Float64Array.from([
    ...range.map((i) => problem.frequencyHz[i]!),
    ...problem.capFrequencyHz.filter((hz) => isOutside(hz, problem)),
    ...zoneGuards.flat(),
  ]);
  return {
    sampleRateHz: problem.sampleRateHz,
    frequencyHz,
    errorPoints,
    warped: frequencyHz.map((hz) => tan((Math.PI * hz) / problem.sampleRateHz) ** 2),
    deviationDb: Float64Array.from(range, (i) => problem.deviationDb[i]!),
    weight: normalised(range.map((i) => problem.weight[i]!)),
    ...limitsOn(problem, frequencyHz),
    meanShare: logTrapezoid(frequencyHz.subarray(0, errorPoints)),
  };
}

const fullGrids = new WeakMap<FitProblem, FitGrid>();

/** All points of the problem; laid out once and kept as long as the problem. */
export function fullGrid(problem: FitProblem): FitGrid {
  const grid = fullGrids.get(problem) ?? fitGrid(problem, 1);
  fullGrids.set(problem, grid);
  return grid;
}

/** The grid of a problem with the limits of another, which differs from it in caps and in what zones allow, not in their places. */
export function withLimitsOf(problem: FitProblem, grid: FitGrid): FitGrid {
  return { ...grid, ...limitsOn(problem, grid.frequencyHz) };
}

/** Caps and zones on a grid at whose end the guard points of the zones lie. */
function limitsOn(problem: FitProblem, frequencyHz: Float64Array): Pick<FitGrid, 'capDb' | 'zones'> {
  const guards = problem.zones.map((zone) => zoneGuardHz(zone, problem).length);
  const capDb = Float64Array.from(frequencyHz, (hz) => capAt(problem, hz));
  let next = frequencyHz.length - guards.reduce((sum, count) => sum + count, 0);
  const zones = problem.zones.map((zone, z): GridZone => {
    const edges = [next, next + 1] as const;
    next += guards[z]!;
    const within = Array.from(frequencyHz.keys()).filter(
      (p) => frequencyHz[p]! >= zone.fromHz && frequencyHz[p]! <= zone.toHz,
    );
    for (const p of within) capDb[p] = Math.min(capDb[p]!, zone.maxRiseDb);
    return { edges, inside: within.filter((p) => !edges.includes(p)), maxFallDb: zone.maxFallDb };
  });
  return { capDb, zones };
}

/**
 * As `fitGrid`, but with the mean of every `perCell` neighbouring points in place of each n-th: what the EQ cannot
 * follow within a cell is taken out beforehand, so that the sums of squares on both grids differ by a constant only.
 */
export function cellGrid(problem: FitProblem, perCell: number): FitGrid {
  if (perCell <= 1) return fullGrid(problem);
  const { frequencyHz, weight, deviationDb } = problem;
  const cells = Math.ceil(frequencyHz.length / perCell);
  const centresHz = new Float64Array(cells);
  const weights = new Float64Array(cells);
  const deviations = new Float64Array(cells);
  for (let c = 0; c < cells; c++) {
    const from = Math.floor((c * frequencyHz.length) / cells);
    const to = Math.floor(((c + 1) * frequencyHz.length) / cells);
    let [sum, weighted, plain, lnF] = [0, 0, 0, 0];
    for (let p = from; p < to; p++) {
      sum += weight[p]!;
      weighted += weight[p]! * deviationDb[p]!;
      plain += deviationDb[p]! / (to - from);
      lnF += log(frequencyHz[p]!) * (sum > 0 ? weight[p]! : 0);
    }
    centresHz[c] = sum > 0 ? exp(lnF / sum) : Math.sqrt(frequencyHz[from]! * frequencyHz[to - 1]!);
    weights[c] = sum;
    deviations[c] = sum > 0 ? weighted / sum : plain;
  }
  const cellProblem = { ...problem, frequencyHz: centresHz, weight: weights, deviationDb: deviations };
  return fitGrid(cellProblem, 1);
}

/** The edge of a zone where the EQ is lower: what it may fall to inside is counted from there. */
export function lowerEdge({ edges: [a, b] }: GridZone, eqDb: Float64Array): number {
  return eqDb[a]! < eqDb[b]! ? a : b;
}

/** The cap between its own points, linear in log frequency; constant beyond the ends. */
export function capAt(problem: FitProblem, hz: number): number {
  const { capFrequencyHz, capDb } = problem;
  const n = capFrequencyHz.length;
  if (hz <= capFrequencyHz[0]!) return capDb[0]!;
  if (hz >= capFrequencyHz[n - 1]!) return capDb[n - 1]!;
  const low = lowerIndex(capFrequencyHz, hz);
  const high = low + 1;
  if (capDb[low] === capDb[high]) return capDb[low]!;
  const t = log(hz / capFrequencyHz[low]!) / log(capFrequencyHz[high]! / capFrequencyHz[low]!);
  return capDb[low]! + t * (capDb[high]! - capDb[low]!);
}

function everyNth(length: number, stride: number): number[] {
  const indices: number[] = [];
  for (let i = 0; i < length; i += stride) indices.push(i);
  if (indices.at(-1) !== length - 1) indices.push(length - 1);
  return indices;
}

function isOutside(hz: number, { frequencyHz }: FitProblem): boolean {
  return hz < frequencyHz[0]! || hz > frequencyHz.at(-1)!;
}

/** The zone's edges, its middle, and what lies between them outside the range. */
function zoneGuardHz({ fromHz, toHz }: ProtectedZone, problem: FitProblem): number[] {
  const steps = Math.max(2, 2 * Math.ceil(0.5 * ZONE_POINTS_PER_OCTAVE * log2(toHz / fromHz)));
  const between = Array.from({ length: steps - 1 }, (_, i) => fromHz * pow(toHz / fromHz, (i + 1) / steps));
  return [fromHz, toHz, ...between.filter((hz, i) => i === steps / 2 - 1 || isOutside(hz, problem))];
}

function normalised(values: readonly number[]): Float64Array {
  const sum = values.reduce((total, value) => total + value, 0);
  return Float64Array.from(values, (value) => (sum > 0 ? value / sum : 0));
}

/** Shares by the trapezoid rule in log frequency, so that every octave weighs the same. */
function logTrapezoid(frequencyHz: Float64Array): Float64Array {
  const n = frequencyHz.length;
  const shares = frequencyHz.map((_, i) =>
    log(frequencyHz[Math.min(i + 1, n - 1)]! / frequencyHz[Math.max(i - 1, 0)]!),
  );
  return normalised(Array.from(shares));
}

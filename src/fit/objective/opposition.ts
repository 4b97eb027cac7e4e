import type { Bands } from '../bank/bands.js';
import { bankValues } from '../bank/bankKernel.js';
import type { FitGrid } from '../problem/fitGrid.js';

/** Two bands of which one boosts where the other cuts. */
export interface OpposedPair {
  /** Their places in the bank. */
  readonly bands: readonly [number, number];
  /** What they take back of each other where that is most, dB. */
  readonly cancelledDb: number;
  /** How alike they are: the area over log frequency that they cancel by the geometric mean of their own, 0 to 1. */
  readonly likeness: number;
}

/** What the bands of a bank do against each other. */
export interface Opposition {
  readonly pairs: readonly OpposedPair[];
  /** Sum of `opposedDb` over the pairs. */
  readonly db: number;
}

/** Keeps a band that does nothing within the range from dividing by its area. */
const NO_AREA_DB = 1e-9;

/** What a pair cancels, by the square of its likeness: a narrow cut in a broad boost is common and hardly counts. */
export function opposedDb({ cancelledDb, likeness }: OpposedPair): number {
  return cancelledDb * likeness * likeness;
}

/** Taken over the points of a grid's range, every octave weighing the same. */
export function opposition(grid: FitGrid, bands: Bands): Opposition {
  const shapes = Array.from(bands.types.keys(), (i) => shapeOf(grid, bands, i));
  const areas = shapes.map((shape) => NO_AREA_DB + area(grid, (p) => Math.abs(shape[p]!)));
  const pairs: OpposedPair[] = [];
  for (let i = 1; i < shapes.length; i++) {
    for (let j = 0; j < i; j++) {
      const { cancelledDb, cancelledArea } = cancelled(grid, shapes[i]!, shapes[j]!);
      if (cancelledDb === 0) continue;
      const likeness = cancelledArea / Math.sqrt(areas[i]! * areas[j]!);
      pairs.push({ bands: [j, i], cancelledDb, likeness });
    }
  }
  return { pairs, db: pairs.reduce((sum, pair) => sum + opposedDb(pair), 0) };
}

function shapeOf({ warped, errorPoints, sampleRateHz }: FitGrid, bands: Bands, i: number): Float64Array {
  const shape = new Float64Array(errorPoints);
  const values = bands.values.subarray(3 * i, 3 * i + 3);
  bankValues(bands.types.subarray(i, i + 1), values, warped.subarray(0, errorPoints), sampleRateHz, shape);
  return shape;
}

function area({ meanShare, errorPoints }: FitGrid, db: (p: number) => number): number {
  let sum = 0;
  for (let p = 0; p < errorPoints; p++) sum += meanShare[p]! * db(p);
  return sum;
}

function cancelled({ meanShare, errorPoints }: FitGrid, a: Float64Array, b: Float64Array) {
  let cancelledDb = 0;
  let cancelledArea = 0;
  for (let p = 0; p < errorPoints; p++) {
    if (a[p]! * b[p]! >= 0) continue;
    const db = Math.min(Math.abs(a[p]!), Math.abs(b[p]!));
    cancelledArea += meanShare[p]! * db;
    if (db > cancelledDb) cancelledDb = db;
  }
  return { cancelledDb, cancelledArea };
}

import { exp } from '../../elementary/exponential.js';
import { log } from '../../elementary/logarithm.js';
import { tan } from '../../elementary/sine.js';
import { type Bands, LOW_SHELF, PEAKING } from './bands.js';

/** Which of the points side by side have a say in a band's derivatives. */
export interface Reach {
  /** Of each band the first point and the one after the last, among the ascending ones. */
  readonly from: Int32Array;
  readonly to: Int32Array;
  /** So many points ascend in frequency; what comes after them counts for every band. */
  ascending: number;
}

const DB_PER_NEPER_OF_POWER = 10 / Math.LN10;

/**
 * Sum of the bank in dB at every grid point, by the closed form of the cookbook filters: the bilinear transform only
 * warps frequency, so with u = tan²(ω/2)/tan²(ω0/2) each |H|² is a ratio of two quadratics in u.
 *
 * @param types n band types
 * @param values 3n numbers: ln f, gain dB, ln Q per band
 * @param warped tan²(ω/2) at p points
 * @param eqDb result, p points
 */
export function bankValues(
  types: Uint8Array,
  values: Float64Array,
  warped: Float64Array,
  sampleRateHz: number,
  eqDb: Float64Array,
): void {
  const points = warped.length;
  eqDb.fill(1);
  let waiting = -1;
  for (let i = 0; i < types.length; i++) {
    if (types[i] !== PEAKING) multiplyByShelf(types[i]!, values, i, warped, sampleRateHz, eqDb);
    else if (waiting < 0) waiting = i;
    else {
      multiplyByPeaks(values, waiting, i, warped, sampleRateHz, eqDb);
      waiting = -1;
    }
  }
  if (waiting >= 0) multiplyByPeak(values, waiting, warped, sampleRateHz, eqDb);
  for (let p = 0; p < points; p++) eqDb[p] = DB_PER_NEPER_OF_POWER * log(eqDb[p]!);
}

function multiplyByPeak(
  values: Float64Array,
  i: number,
  warped: Float64Array,
  sampleRateHz: number,
  power: Float64Array,
): void {
  const { inverseT0, A, q } = bandConstants(values, i, sampleRateHz);
  const a = (A * A) / (q * q);
  const d = 1 / (A * A * q * q);
  for (let p = 0; p < warped.length; p++) {
    const u = warped[p]! * inverseT0;
    const c = (1 - u) * (1 - u);
    power[p]! *= (c + a * u) / (c + d * u);
  }
}

/** Two at a time share one division. */
function multiplyByPeaks(
  values: Float64Array,
  i: number,
  k: number,
  warped: Float64Array,
  sampleRateHz: number,
  power: Float64Array,
): void {
  const one = bandConstants(values, i, sampleRateHz);
  const two = bandConstants(values, k, sampleRateHz);
  const [t1, t2] = [one.inverseT0, two.inverseT0];
  const a1 = (one.A * one.A) / (one.q * one.q);
  const d1 = 1 / (one.A * one.A * one.q * one.q);
  const a2 = (two.A * two.A) / (two.q * two.q);
  const d2 = 1 / (two.A * two.A * two.q * two.q);
  for (let p = 0; p < warped.length; p++) {
    const w = warped[p]!;
    const u1 = w * t1;
    const u2 = w * t2;
    const c1 = (1 - u1) * (1 - u1);
    const c2 = (1 - u2) * (1 - u2);
    power[p]! *= ((c1 + a1 * u1) * (c2 + a2 * u2)) / ((c1 + d1 * u1) * (c2 + d2 * u2));
  }
}

function multiplyByShelf(
  type: number,
  values: Float64Array,
  i: number,
  warped: Float64Array,
  sampleRateHz: number,
  power: Float64Array,
): void {
  const { inverseT0, A, q } = bandConstants(values, i, sampleRateHz);
  const b = A / (q * q);
  const A2 = A * A;
  const low = type === LOW_SHELF;
  for (let p = 0; p < warped.length; p++) {
    const u = warped[p]! * inverseT0;
    const toward = (A - u) * (A - u) + b * u;
    const away = (1 - A * u) * (1 - A * u) + b * u;
    power[p]! *= low ? (A2 * toward) / away : (A2 * away) / toward;
  }
}

/**
 * As `bankValues`, and the derivatives by every free number.
 *
 * @param jacobian result, 3n rows of p points: row 3i by ln f, 3i + 1 by gain in dB, 3i + 2 by ln Q
 */
export function bankValuesAndJacobian(
  types: Uint8Array,
  values: Float64Array,
  warped: Float64Array,
  sampleRateHz: number,
  eqDb: Float64Array,
  jacobian: Float64Array,
): void {
  const points = warped.length;
  eqDb.fill(1);
  for (let i = 0; i < types.length; i++) {
    const { inverseT0, dLnT0, A, q } = bandConstants(values, i, sampleRateHz);
    const byLnF = 3 * i * points;
    const byGain = byLnF + points;
    const byLnQ = byGain + points;
    const scaleF = -DB_PER_NEPER_OF_POWER * dLnT0;
    const scaleQ = 2 * DB_PER_NEPER_OF_POWER;
    if (types[i] === PEAKING) {
      const a = (A * A) / (q * q);
      const d = 1 / (A * A * q * q);
      for (let p = 0; p < points; p++) {
        const u = warped[p]! * inverseT0;
        const c = (1 - u) * (1 - u);
        const N = c + a * u;
        const D = c + d * u;
        const inverse = 1 / (N * D);
        const perN = D * inverse;
        const perD = N * inverse;
        eqDb[p]! *= N * perD;
        const aN = a * u * perN;
        const dD = d * u * perD;
        const dc = -2 * (1 - u) * u;
        jacobian[byLnF + p] = scaleF * (dc * (perN - perD) + aN - dD);
        jacobian[byGain + p] = 0.5 * (aN + dD);
        jacobian[byLnQ + p] = scaleQ * (dD - aN);
      }
    } else {
      const b = A / (q * q);
      const A2 = A * A;
      const sign = types[i] === LOW_SHELF ? 1 : -1;
      for (let p = 0; p < points; p++) {
        const u = warped[p]! * inverseT0;
        const toward = (A - u) * (A - u) + b * u;
        const away = (1 - A * u) * (1 - A * u) + b * u;
        const perToward = 1 / toward;
        const perAway = 1 / away;
        const bu = b * u;
        eqDb[p]! *= A2 * (sign > 0 ? toward * perAway : away * perToward);
        const byU = (-2 * (A - u) * u + bu) * perToward - (-2 * A * (1 - A * u) * u + bu) * perAway;
        const byA = (2 * (A - u) * A + bu) * perToward - (-2 * u * (1 - A * u) * A + bu) * perAway;
        jacobian[byLnF + p] = sign * scaleF * byU;
        jacobian[byGain + p] = 0.25 * (2 + sign * byA);
        jacobian[byLnQ + p] = sign * scaleQ * bu * (perAway - perToward);
      }
    }
  }
  for (let p = 0; p < points; p++) eqDb[p] = DB_PER_NEPER_OF_POWER * log(eqDb[p]!);
}

/**
 * Derivatives by every free number, each times a point's `root`.
 *
 * @param warped, root of the first `count` points
 * @param jacobian result, 3n rows of `count` numbers, in the order of `bankValuesAndJacobian`; 0 beyond each band's reach
 */
export function scaledJacobian(
  bands: Bands,
  warped: Float64Array,
  root: Float64Array,
  count: number,
  sampleRateHz: number,
  jacobian: Float64Array,
  reach?: Reach,
): void {
  for (let i = 0; i < bands.types.length; i++) {
    if (!reach) {
      bandJacobian(bands, i, warped, root, count, 0, count, sampleRateHz, jacobian);
      continue;
    }
    const from = reach.from[i]!;
    const to = reach.to[i]!;
    for (let row = 3 * i * count; row < 3 * (i + 1) * count; row += count) {
      jacobian.fill(0, row, row + from);
      jacobian.fill(0, row + to, row + reach.ascending);
    }
    bandJacobian(bands, i, warped, root, count, from, to, sampleRateHz, jacobian);
    if (reach.ascending < count)
      bandJacobian(bands, i, warped, root, count, reach.ascending, count, sampleRateHz, jacobian);
  }
}

function bandJacobian(
  { types, values }: Bands,
  i: number,
  warped: Float64Array,
  root: Float64Array,
  count: number,
  from: number,
  to: number,
  sampleRateHz: number,
  jacobian: Float64Array,
): void {
  const { inverseT0, dLnT0, A, q } = bandConstants(values, i, sampleRateHz);
  const byLnF = 3 * i * count;
  const byGain = byLnF + count;
  const byLnQ = byGain + count;
  const scaleF = -DB_PER_NEPER_OF_POWER * dLnT0;
  const scaleQ = 2 * DB_PER_NEPER_OF_POWER;
  if (types[i] === PEAKING) {
    const a = (A * A) / (q * q);
    const d = 1 / (A * A * q * q);
    for (let p = from; p < to; p++) {
      const u = warped[p]! * inverseT0;
      const v = 1 - u;
      const c = v * v;
      const N = c + a * u;
      const D = c + d * u;
      const inverse = root[p]! / (N * D);
      const perN = D * inverse;
      const perD = N * inverse;
      const aN = a * u * perN;
      const dD = d * u * perD;
      const between = aN - dD;
      jacobian[byLnF + p] = scaleF * (2 * (v * u) * (perD - perN) + between);
      jacobian[byGain + p] = 0.5 * (aN + dD);
      jacobian[byLnQ + p] = -scaleQ * between;
    }
    return;
  }
  const b = A / (q * q);
  const sign = types[i] === LOW_SHELF ? 1 : -1;
  for (let p = from; p < to; p++) {
    const u = warped[p]! * inverseT0;
    const x = A - u;
    const y = 1 - A * u;
    const bu = b * u;
    const toward = x * x + bu;
    const away = y * y + bu;
    const w = root[p]!;
    const inverse = w / (toward * away);
    const perToward = away * inverse;
    const perAway = toward * inverse;
    const byU = (bu - 2 * (x * u)) * perToward - (bu - 2 * (A * (y * u))) * perAway;
    const byA = (bu + 2 * (x * A)) * perToward - (bu - 2 * (u * (y * A))) * perAway;
    jacobian[byLnF + p] = sign * scaleF * byU;
    jacobian[byGain + p] = 0.25 * (2 * w + sign * byA);
    jacobian[byLnQ + p] = sign * scaleQ * (bu * (perAway - perToward));
  }
}

export function bandConstants(values: Float64Array, i: number, sampleRateHz: number) {
  const w0 = (2 * Math.PI * exp(values[3 * i]!)) / sampleRateHz;
  const tanHalf = tan(w0 / 2);
  const t0 = tanHalf * tanHalf;
  return {
    inverseT0: 1 / t0,
    // 2 w0 / sin w0
    dLnT0: (w0 * (1 + t0)) / tanHalf,
    A: exp(values[3 * i + 1]! * (Math.LN10 / 40)),
    q: exp(values[3 * i + 2]!),
  };
}

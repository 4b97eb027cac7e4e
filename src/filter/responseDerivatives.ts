import { exp, expm1 } from '../elementary/exponential.js';
import { sin } from '../elementary/sine.js';
import { closedForm, DB_PER_NEPER_POWER } from './closedForm.js';
import type { Filter } from './filter.js';
import { type ResponseGrid, responseGrid } from './responseGrid.js';

/** Slopes of one filter's level at n frequencies. */
export interface ResponseDerivatives {
  /** d(dB)/d ln f0 */
  readonly perLnFrequency: Float64Array;
  /** d(dB)/d gainDb */
  readonly perGainDb: Float64Array;
  /** d(dB)/d ln Q */
  readonly perLnQ: Float64Array;
}

/**
 * How the level of a filter in dB at each frequency changes with its own three numbers, analytic.
 *
 * @param frequencyHz n frequencies from 0 to half of `sampleRateHz`
 */
export function responseDerivatives(
  filter: Filter,
  sampleRateHz: number,
  frequencyHz: Float64Array,
): ResponseDerivatives {
  const n = frequencyHz.length;
  const slopes = {
    perLnFrequency: new Float64Array(n),
    perGainDb: new Float64Array(n),
    perLnQ: new Float64Array(n),
  };
  writeResponseDerivatives(filter, responseGrid(sampleRateHz, frequencyHz), slopes);
  return slopes;
}

/**
 * The same into buffers that are already there.
 *
 * In the terms of `closedForm`, with K = 10/ln 10 and Ω entering only as r/p:
 *
 *     peaking    ∂L/∂lnΩ = 2K·e1·pr·(p² − r²)/(N·D)
 *                ∂L/∂gain = ½ (n2 pr/N + d2 pr/D)
 *                ∂L/∂lnQ = −2K·e1·pr·(p − r)²/(N·D)
 *     low shelf, with M = N/A², m = 1/Q² − 2
 *                ∂L/∂lnΩ = −2K (A² − 1) pr (A m (p² + r²) + 2 (A² + 1) pr)/(M·D)
 *                ∂L/∂gain = ¼ ((2A² p² + A m pr)/M + (2p² + A m pr)/D)
 *                ∂L/∂lnQ = 2K (A² − 1) A/Q² · pr (p² − r²)/(M·D)
 *     high shelf: the low shelf with p and r exchanged and ∂L/∂lnΩ negated
 *
 * and ∂L/∂ln f0 = −(ω0/sin ω0)·∂L/∂lnΩ, since ∂ ln tan(ω0/2)/∂ ln ω0 = ω0/sin ω0.
 */
function writeResponseDerivatives(filter: Filter, grid: ResponseGrid, into: ResponseDerivatives): void {
  const form = closedForm(filter, grid.sampleRateHz);
  if (typeof form === 'number') {
    into.perLnFrequency.fill(0);
    into.perLnQ.fill(0);
    // A constant response is either the identity or plain gain.
    into.perGainDb.fill(isWholeShelf(filter, grid.sampleRateHz) ? 1 : 0);
    return;
  }
  const { sinSquared, cosSquared } = grid;
  const n = sinSquared.length;
  const { perLnFrequency, perGainDb, perLnQ } = into;
  const { tanHalf, n2, d2, e1 } = form;
  const w0 = (2 * Math.PI * filter.frequencyHz) / grid.sampleRateHz;
  const warp = (2 * DB_PER_NEPER_POWER * w0) / sin(w0);

  if (filter.type === 'peaking') {
    for (let i = 0; i < n; i += 1) {
      const p = tanHalf * cosSquared[i]!;
      const r = sinSquared[i]! / tanHalf;
      const pr = sinSquared[i]! * cosSquared[i]!;
      const square = (p - r) * (p - r);
      const N = square + n2 * pr;
      const D = square + d2 * pr;
      const common = (e1 * pr * (p - r)) / (N * D);
      perLnFrequency[i] = -warp * common * (p + r);
      perGainDb[i] = 0.5 * pr * (n2 / N + d2 / D);
      perLnQ[i] = -2 * DB_PER_NEPER_POWER * common * (p - r);
    }
    return;
  }

  const low = filter.type === 'lowShelf';
  const lnA = (filter.gainDb * Math.LN10) / 40;
  const A = exp(lnA);
  const k = 1 / (filter.q * filter.q);
  const Am = A * (k - 2);
  const Ak = A * k;
  const gap = expm1(2 * lnA); // A² − 1
  const sum = 2 * (A * A + 1);
  const sign = low ? 1 : -1;
  for (let i = 0; i < n; i += 1) {
    const P = tanHalf * cosSquared[i]!;
    const R = sinSquared[i]! / tanHalf;
    const p = low ? P : R;
    const r = low ? R : P;
    const pr = sinSquared[i]! * cosSquared[i]!;
    const M = (A * p - r) ** 2 + Ak * pr;
    const D = (p - A * r) ** 2 + Ak * pr;
    const common = (gap * pr) / (M * D);
    perLnFrequency[i] = sign * warp * common * (Am * (p * p + r * r) + sum * pr);
    perGainDb[i] = 0.25 * ((2 * A * A * p * p + Am * pr) / M + (2 * p * p + Am * pr) / D);
    perLnQ[i] = 2 * DB_PER_NEPER_POWER * common * Ak * (p - r) * (p + r);
  }
}

function isWholeShelf(filter: Filter, sampleRateHz: number): boolean {
  return filter.frequencyHz <= 0
    ? filter.type === 'highShelf'
    : filter.type === 'lowShelf' && filter.frequencyHz >= sampleRateHz / 2;
}

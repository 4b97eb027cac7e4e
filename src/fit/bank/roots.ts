import { type Bands, HIGH_SHELF, LOW_SHELF, PEAKING } from './bands.js';

/** A conjugate pair of roots of the analogue prototype: its natural frequency and its Q, in logarithms. */
export interface RootPair {
  readonly lnF: number;
  readonly lnQ: number;
}

/** A band's gain in dB is this many times ln A, the cookbook's A being the square root of the gain. */
const DB = 40 / Math.LN10;

/**
 * Zeros of a band, by the cookbook's analogue prototypes: a peak's lie at its frequency, at Q / A, a low shelf's at its Q, half of
 * ln A above its frequency, a high shelf's as far below.
 */
export function zerosOf(bands: Bands, i: number): RootPair {
  return shifted(bands, i, 1);
}

/** Poles of a band: as far from its frequency and Q as the zeros, on the other side. */
export function polesOf(bands: Bands, i: number): RootPair {
  return shifted(bands, i, -1);
}

function shifted({ types, values }: Bands, i: number, sign: 1 | -1): RootPair {
  const lnF = values[3 * i]!;
  const lnA = (sign * values[3 * i + 1]!) / DB;
  const lnQ = values[3 * i + 2]!;
  if (types[i] === PEAKING) return { lnF, lnQ: lnQ - lnA };
  return { lnF: lnF + (types[i] === LOW_SHELF ? lnA / 2 : -lnA / 2), lnQ };
}

/** ln f, gain in dB and ln Q of the band of a type with about these zeros and poles. */
export function bandOfRoots(type: number, zeros: RootPair, poles: RootPair): [number, number, number] {
  const lnA =
    type === PEAKING ? (poles.lnQ - zeros.lnQ) / 2 : (type === HIGH_SHELF ? -1 : 1) * (zeros.lnF - poles.lnF);
  return [(zeros.lnF + poles.lnF) / 2, DB * lnA, (zeros.lnQ + poles.lnQ) / 2];
}

/** What `bandOfRoots` leaves out: a peak's zeros and poles share their frequency, a shelf's their Q. */
export function misfit(type: number, zeros: RootPair, poles: RootPair): number {
  return Math.abs(type === PEAKING ? zeros.lnF - poles.lnF : zeros.lnQ - poles.lnQ);
}

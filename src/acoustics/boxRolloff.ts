import { log10 } from '../elementary/logarithm.js';
import type { ComplexPressure } from './complexPressure.js';

/** Closed box: second-order high-pass with resonance fc and total Q Qtc (Small 1972). */
export interface SealedBox {
  readonly kind: 'sealed';
  readonly resonanceHz: number;
  readonly qtc: number;
}

/**
 * Vented box: fourth-order high-pass s⁴/(s⁴ + a1·s³ + a2·s² + a3·s + 1) with s = j·f/f0 (Thiele 1971).
 * Without coefficients it is the Butterworth alignment, whose −3 dB corner is f0.
 */
export interface VentedBox {
  readonly kind: 'vented';
  readonly cornerHz: number;
  readonly coefficients?: readonly [a1: number, a2: number, a3: number];
}

export type Box = SealedBox | VentedBox;

/** Fourth-order Butterworth: a1 = a3 = √(4 + 2√2), a2 = 2 + √2 (Thiele 1971, alignment 5). */
const butterworth4 = [Math.sqrt(4 + 2 * Math.SQRT2), 2 + Math.SQRT2, Math.sqrt(4 + 2 * Math.SQRT2)] as const;

/** Complex response of the box relative to its pass band. */
export function boxPressure(frequencyHz: Float64Array, box: Box): ComplexPressure {
  const re = new Float64Array(frequencyHz.length);
  const im = new Float64Array(frequencyHz.length);
  for (let i = 0; i < frequencyHz.length; i++) {
    const { top, realPart, imaginaryPart } = boxFraction(frequencyHz[i]!, box);
    const norm = realPart * realPart + imaginaryPart * imaginaryPart;
    re[i] = (top * realPart) / norm;
    im[i] = (-top * imaginaryPart) / norm;
  }
  return { re, im };
}

/** Level of the box relative to its pass band at one frequency, in dB. */
export function boxLevelDb(frequencyHz: number, box: Box): number {
  const { top, realPart, imaginaryPart } = boxFraction(frequencyHz, box);
  return 10 * log10((top * top) / (realPart * realPart + imaginaryPart * imaginaryPart));
}

/** Slope far below the corner in dB per octave: each order brings 20·log10 2. */
export function boxSlopeDbPerOctave(box: Box): number {
  return (box.kind === 'sealed' ? 40 : 80) * log10(2);
}

/** Where a closed box is 3 dB (half power) down, in Hz; from |H|² = 1/2. */
export function sealedCornerHz({ resonanceHz, qtc }: SealedBox): number {
  const b = 1 / (qtc * qtc) - 2;
  return resonanceHz * Math.sqrt((b + Math.sqrt(b * b + 4)) / 2);
}

/** Half the power. */
const CORNER_DB = -10 * log10(2);

/** Where a box is 3 dB down for good, in Hz: below it the level only falls. Vented boxes by halving. */
export function boxCornerHz(box: Box): number {
  if (box.kind === 'sealed') return sealedCornerHz(box);
  let [low, high] = [box.cornerHz / 4, box.cornerHz * 4];
  for (let i = 0; i < 40; i++) {
    const middle = Math.sqrt(low * high);
    if (boxLevelDb(middle, box) < CORNER_DB) low = middle;
    else high = middle;
  }
  return high;
}

/** Peak of a closed box over its pass band in dB: 20·log10(Qtc²/√(Qtc² − ¼)) for Qtc > 1/√2, else 0. */
export function sealedPeakDb(qtc: number): number {
  return qtc > Math.SQRT1_2 ? 20 * log10((qtc * qtc) / Math.sqrt(qtc * qtc - 0.25)) : 0;
}

/** Numerator (real at s = jω) and denominator of the high-pass. */
function boxFraction(frequencyHz: number, box: Box) {
  if (box.kind === 'sealed') {
    const w = frequencyHz / box.resonanceHz;
    return { top: -w * w, realPart: 1 - w * w, imaginaryPart: w / box.qtc };
  }
  const [a1, a2, a3] = box.coefficients ?? butterworth4;
  const w = frequencyHz / box.cornerHz;
  const w2 = w * w;
  return { top: w2 * w2, realPart: w2 * w2 - a2 * w2 + 1, imaginaryPart: a3 * w - a1 * w2 * w };
}

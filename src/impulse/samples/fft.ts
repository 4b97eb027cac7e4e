import FFT from 'fft.js';
import { log2 } from '../../elementary/logarithm.js';
import { cos, sin } from '../../elementary/sine.js';

/**
 * The lower half of the spectrum of a real signal, bins 0 to `size`/2, real and imaginary parts interleaved
 * (`size` + 2 numbers). The other half is its conjugate mirror image.
 */
export interface Spectrum {
  /** Length of the transform in samples, a power of two. */
  readonly size: number;
  readonly bins: Float64Array;
}

/** The smallest power of two that is at least `n` (and at least 4, the smallest size transformed here). */
export function powerOfTwoAtLeast(n: number): number {
  let size = 4;
  while (size < n) size *= 2;
  return size;
}

/**
 * Tables for a real transform of `size` samples, done as a complex one of half that size. Building them takes longer
 * than a transform; whoever does several long ones builds them once with `fftPlan` and hands them in.
 */
export interface FftPlan {
  readonly size: number;
  readonly half: FFT;
  /** cos and −sin of 2πk/size for k = 0 … size/4, interleaved. */
  readonly twiddle: Float64Array;
  /** Room to pad a signal in. */
  readonly padded: Float64Array;
}

// Tables of short transforms are kept, since windows and cepstra ask for the same sizes again and again.
const keptUpToSize = 1 << 18;
const keptPlans = new Map<number, FftPlan>();

export function fftPlan(size: number): FftPlan {
  if (size < 4 || !Number.isInteger(log2(size)))
    throw new RangeError(`a transform needs a power of two, at least 4; got ${size}`);
  const kept = keptPlans.get(size);
  if (kept) return kept;
  const twiddle = new Float64Array(size / 2 + 2);
  for (let k = 0; k <= size / 4; k++) {
    const angle = (2 * Math.PI * k) / size;
    twiddle[2 * k] = cos(angle);
    twiddle[2 * k + 1] = -sin(angle);
  }
  const plan = { size, half: complexFft(size / 2), twiddle, padded: new Float64Array(size) };
  if (size <= keptUpToSize) keptPlans.set(size, plan);
  return plan;
}

/** The library fills its table with the engine's own sines, whose last digits differ between engines; here are ours. */
function complexFft(size: number): FFT {
  const fft = new FFT(size);
  const { table } = fft as unknown as { readonly table: number[] };
  for (let i = 0; i < size; i++) {
    const angle = (2 * Math.PI * i) / size;
    table[2 * i] = cos(angle);
    table[2 * i + 1] = -sin(angle);
  }
  return fft;
}

/**
 * Spectrum of a real signal, X[k] = Σ x[n]·e^(−2πikn/size), zero-padded to `size`.
 *
 * @param signal at most `size` samples
 * @param size a power of two, at least 4
 */
export function realFft(signal: Float64Array, size: number, plan = fftPlan(size)): Spectrum {
  const { half, twiddle } = plan;
  if (signal.length > size)
    throw new RangeError(`${signal.length} samples do not fit a transform of ${size}`);
  let packed = signal;
  if (signal.length < size) {
    packed = plan.padded;
    packed.set(signal);
    packed.fill(0, signal.length);
  }
  const bins = new Float64Array(size + 2);
  half.transform(bins, packed);
  separate(bins, size, twiddle, 1);
  return { size, bins };
}

/**
 * The real signal of a spectrum, scaled so that `inverseRealFft(realFft(x, size))` is x.
 * The spectrum's array is used as working space and is spoilt.
 */
export function inverseRealFft({ size, bins }: Spectrum, plan = fftPlan(size)): Float64Array {
  const { half, twiddle } = plan;
  separate(bins, size, twiddle, -1);
  const signal = new Float64Array(size);
  half.inverseTransform(signal, bins);
  return signal;
}

/**
 * Turns the spectrum Z of z[n] = x[2n] + i·x[2n+1] into that of x, in place (`direction` 1), or back (−1).
 *
 * With W = e^(−2πi/size): X[k] = (Z[k] + Z*[m−k])/2 − i·Wᵏ·(Z[k] − Z*[m−k])/2, m = size/2; the way back is the
 * same with i·W⁻ᵏ for −i·Wᵏ. (Press et al., Numerical Recipes, "FFT of single real function".)
 */
function separate(bins: Float64Array, size: number, twiddle: Float64Array, direction: 1 | -1): void {
  const m = size / 2;
  if (direction === 1) {
    const re = bins[0]!;
    const im = bins[1]!;
    bins[0] = re + im;
    bins[1] = 0;
    bins[size] = re - im;
    bins[size + 1] = 0;
  } else {
    const dc = bins[0]!;
    const nyquist = bins[size]!;
    bins[0] = (dc + nyquist) / 2;
    bins[1] = (dc - nyquist) / 2;
    bins[size] = 0;
    bins[size + 1] = 0;
  }
  for (let k = 1; 2 * k <= m; k++) {
    const a = 2 * k;
    const b = 2 * (m - k);
    const evenRe = (bins[a]! + bins[b]!) / 2;
    const evenIm = (bins[a + 1]! - bins[b + 1]!) / 2;
    const oddRe = (bins[a]! - bins[b]!) / 2;
    const oddIm = (bins[a + 1]! + bins[b + 1]!) / 2;
    // Wᵏ = c + i·s; −i·Wᵏ = s − i·c, and i·W⁻ᵏ = s + i·c on the way back.
    const c = direction * twiddle[a]!;
    const s = twiddle[a + 1]!;
    const turnedRe = s * oddRe + c * oddIm;
    const turnedIm = s * oddIm - c * oddRe;
    bins[a] = evenRe + turnedRe;
    bins[a + 1] = evenIm + turnedIm;
    bins[b] = evenRe - turnedRe;
    bins[b + 1] = turnedIm - evenIm;
  }
}

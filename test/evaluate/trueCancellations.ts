import type { TrueCancellation } from './evaluationCase.js';

const LEAST_DB = 2;

interface Part {
  readonly name: string;
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/**
 * Dips of 20·lg|1 + Σ pₖ| against the mean of the 1.5 octaves around, and which paths they would be lost without.
 *
 * @param paths complex pressure of each reflected path relative to the direct sound, 48 points an octave
 */
export function trueCancellations(
  frequencyHz: Float64Array,
  paths: readonly Part[],
): { interferenceDb: Float64Array; cancellations: TrueCancellation[] } {
  const n = frequencyHz.length;
  const levelOf = (parts: readonly Part[]): Float64Array =>
    Float64Array.from({ length: n }, (_, i) => {
      const re = parts.reduce((sum, p) => sum + p.re[i]!, 1);
      const im = parts.reduce((sum, p) => sum + p.im[i]!, 0);
      return 10 * Math.log10(Math.max(1e-6, re * re + im * im));
    });
  const interferenceDb = levelOf(paths);
  const height = heightOf(interferenceDb);
  const without = paths.map((_, k) => heightOf(levelOf(paths.filter((_, j) => j !== k))));
  const cancellations: TrueCancellation[] = [];
  for (let i = 2; i < n - 2; i++) {
    const h = height[i]!;
    if (h > -LEAST_DB || !standsOut(height, i)) continue;
    let from = i;
    let to = i;
    while (from > 0 && height[from - 1]! < h / 2) from--;
    while (to < n - 1 && height[to + 1]! < h / 2) to++;
    const surfaces = paths
      .map((p, k) => ({ name: p.name, loss: without[k]![i]! - h }))
      .filter(({ loss }) => loss > -h / 4)
      .sort((a, b) => b.loss - a.loss)
      .map(({ name }) => name);
    cancellations.push({
      frequencyHz: frequencyHz[i]!,
      depthDb: -h,
      fromHz: frequencyHz[from]!,
      toHz: frequencyHz[to]!,
      surfaces,
    });
  }
  return { interferenceDb, cancellations };
}

/** Twelfth-octave power average less the mean over 1.5 octaves, on a grid of 48 points an octave. */
function heightOf(levelDb: Float64Array): Float64Array {
  const smooth = windowMean(
    levelDb.map((l) => 10 ** (l / 10)),
    2,
  ).map((p) => 10 * Math.log10(p));
  const trend = windowMean(smooth, 36);
  return smooth.map((l, i) => l - trend[i]!);
}

function windowMean(values: Float64Array, reach: number): Float64Array {
  return values.map((_, i) => {
    const half = Math.min(reach, i, values.length - 1 - i);
    let sum = 0;
    for (let k = i - half; k <= i + half; k++) sum += values[k]!;
    return sum / (2 * half + 1);
  });
}

/** Rises by 2 dB on both sides before it goes deeper. */
function standsOut(height: Float64Array, at: number): boolean {
  return [-1, 1].every((step) => {
    for (let i = at + step; i >= 0 && i < height.length; i += step) {
      if (height[i]! < height[at]! || (step < 0 && height[i] === height[at])) return false;
      if (height[i]! - height[at]! >= LEAST_DB) return true;
    }
    return false;
  });
}

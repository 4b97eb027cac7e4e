import { powerIntegral } from './powerIntegral.js';

/**
 * Mean power over windows of a curve whose level runs straight between points.
 *
 * @param x ascending positions of the points (log frequency), n ≥ 2
 * @param levelDb level at each point
 * @param from left ends of the windows, never falling from one window to the next, within the points
 * @param to right ends, likewise; a window of no width gives the power at that place
 * @returns mean power of each window
 *
 * O(n + windows). Whole segments are summed with a pivot (sums running left from it and a sum running right),
 * so that nothing is ever subtracted: a quiet window beside a loud one keeps all its digits, which a single
 * cumulative sum would lose.
 */
export function windowPower(
  x: Float64Array,
  levelDb: Float64Array,
  from: Float64Array,
  to: Float64Array,
): Float64Array {
  const segments = x.length - 1;
  const whole = new Float64Array(segments);
  for (let i = 0; i < segments; i++) {
    whole[i] = powerIntegral(levelDb[i]!, levelDb[i + 1]!, x[i + 1]! - x[i]!);
  }
  const levelAt = (segment: number, position: number): number => {
    const t = (position - x[segment]!) / (x[segment + 1]! - x[segment]!);
    return levelDb[segment]! + t * (levelDb[segment + 1]! - levelDb[segment]!);
  };

  const leftOfPivot = new Float64Array(segments + 1); // sum over segments k … pivot − 1
  let pivot = 0;
  let rightOfPivot = 0; // sum over segments pivot … summedTo − 1
  let summedTo = 0;
  const sumOfWhole = (start: number, end: number): number => {
    for (; summedTo < end; summedTo++) rightOfPivot += whole[summedTo]!;
    if (start >= pivot) {
      pivot = end;
      leftOfPivot[end] = 0;
      for (let k = end - 1; k >= start; k--) leftOfPivot[k] = leftOfPivot[k + 1]! + whole[k]!;
      rightOfPivot = 0;
      summedTo = end;
    }
    return leftOfPivot[start]! + rightOfPivot;
  };

  const mean = new Float64Array(from.length);
  let first = 0; // segment that holds the left end
  let last = 0; // segment that holds the right end
  for (let w = 0; w < from.length; w++) {
    const a = from[w]!;
    const b = to[w]!;
    while (first < segments - 1 && x[first + 1]! <= a) first++;
    while (last < segments - 1 && x[last + 1]! < b) last++;
    if (last < first) last = first;
    if (b <= a) {
      mean[w] = powerIntegral(levelAt(first, a), levelAt(first, a), 1);
    } else if (first === last) {
      mean[w] = powerIntegral(levelAt(first, a), levelAt(first, b), 1);
    } else {
      const head = powerIntegral(levelAt(first, a), levelDb[first + 1]!, x[first + 1]! - a);
      const tail = powerIntegral(levelDb[last]!, levelAt(last, b), b - x[last]!);
      const middle = first + 1 < last ? sumOfWhole(first + 1, last) : 0;
      mean[w] = (head + middle + tail) / (b - a);
    }
  }
  return mean;
}

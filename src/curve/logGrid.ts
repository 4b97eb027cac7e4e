import { pow2 } from '../elementary/exponential.js';
import { log2 } from '../elementary/logarithm.js';

/**
 * The common frequency grid: 1000·2^(k/perOctave) Hz for every whole k that lies in [fromHz, toHz].
 * A bound that lies on the grid but for rounding counts as inside.
 */
export function logGrid(fromHz: number, toHz: number, perOctave = 48): Float64Array {
  const slack = 1e-9;
  const first = Math.ceil(perOctave * log2(fromHz / 1000) - slack);
  const last = Math.floor(perOctave * log2(toHz / 1000) + slack);
  return Float64Array.from(
    { length: Math.max(0, last - first + 1) },
    (_, i) => 1000 * pow2((first + i) / perOctave),
  );
}

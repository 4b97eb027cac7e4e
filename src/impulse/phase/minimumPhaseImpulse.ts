import { exp } from '../../elementary/exponential.js';
import { cos, sin } from '../../elementary/sine.js';
import { inverseRealFft } from '../samples/fft.js';
import { minimumPhase } from './minimumPhase.js';

/**
 * The impulse response of the minimum-phase system with a magnitude.
 *
 * @param logMagnitude ln|H| at bins 0 to size/2, size a power of two ≥ 8
 * @returns `size` samples
 */
export function minimumPhaseImpulse(logMagnitude: Float64Array): Float64Array {
  const size = 2 * (logMagnitude.length - 1);
  const { phaseRad } = minimumPhase(logMagnitude);
  const bins = new Float64Array(size + 2);
  for (let k = 0; k <= size / 2; k++) {
    const magnitude = exp(logMagnitude[k]!);
    bins[2 * k] = magnitude * cos(phaseRad[k]!);
    bins[2 * k + 1] = magnitude * sin(phaseRad[k]!);
  }
  return inverseRealFft({ size, bins });
}

import type { Curve } from '../../curve/curve.js';
import { logGrid } from '../../curve/logGrid.js';
import { exp, pow2 } from '../../elementary/exponential.js';
import { log, log10 } from '../../elementary/logarithm.js';
import { hypot } from '../../elementary/power.js';
import { powerOfTwoAtLeast, realFft } from '../samples/fft.js';
import type { ImpulseResponse } from '../samples/impulseResponse.js';
import { analyticSignal } from '../sweep/compressedImpulse.js';

/** Standard deviation of the band over log frequency: its pulse is a good period long between half values of the envelope. */
const BAND_OCTAVES = 0.5;
/** In such deviations. */
const BAND_REACH = 4;
/** In periods of the band's middle: the direct sound's own pulse in the band, and the stretch that is searched after it. */
const DIRECT = { from: -1, to: 0.8 };
const LATER = { from: 1.25, to: 8 };
const LOWEST_HZ = 60;
const HIGHEST_HZ = 18000;
/** Of the sample rate; converters filter above. */
const HIGHEST_SHARE = 0.4;
const PER_OCTAVE = 6;
const BEFORE_S = 0.05;
const NOTHING_DB = -120;

/**
 * How strong the strongest sound is that follows the direct sound by 1.25 to 8 periods, band by band: the envelope of the
 * response in a band of a good octave around each frequency, in dB over its greatest value at the direct sound. A
 * reflection that makes a comb shows as it is, however dull it is; so does whatever of the speaker's own rings as long.
 *
 * @param arrivalS of the direct sound, from the start of the response
 * @returns 6 points an octave from 60 Hz up, as far as the sample rate goes
 */
export function laterSound({ samples, sampleRateHz }: ImpulseResponse, arrivalS: number): Curve {
  const arrival = arrivalS * sampleRateHz;
  const first = Math.max(0, Math.round(arrival - BEFORE_S * sampleRateHz));
  const reach = ((LATER.to + 1) / LOWEST_HZ) * sampleRateHz;
  const segment = samples.slice(first, Math.round(arrival + reach) + 1);
  const size = powerOfTwoAtLeast(segment.length + BEFORE_S * sampleRateHz);
  const { bins } = realFft(segment, size);
  const frequencyHz = logGrid(LOWEST_HZ, Math.min(HIGHEST_HZ, HIGHEST_SHARE * sampleRateHz), PER_OCTAVE);
  const lnBin = Float64Array.from({ length: size / 2 + 1 }, (_, k) =>
    k === 0 ? 0 : log((k * sampleRateHz) / size),
  );
  const levelDb = frequencyHz.map((f) => {
    const highest = Math.min(
      size / 2,
      Math.ceil((pow2(BAND_REACH * BAND_OCTAVES) * f * size) / sampleRateHz),
    );
    // No more points than the band needs.
    const points = Math.min(size, powerOfTwoAtLeast(8 * highest));
    const band = new Float64Array(points + 2);
    const lnMiddle = log(f);
    for (let k = 1; k <= highest; k++) {
      const off = (lnBin[k]! - lnMiddle) / (BAND_OCTAVES * Math.LN2);
      if (off < -BAND_REACH) continue;
      const weight = exp(-0.5 * off * off);
      band[2 * k] = weight * bins[2 * k]!;
      band[2 * k + 1] = weight * bins[2 * k + 1]!;
    }
    const { re, im } = analyticSignal(band, 1, points);
    const pointsPerS = (sampleRateHz * points) / size;
    const last = Math.floor((segment.length * points) / size);
    const greatest = ({ from, to }: { readonly from: number; readonly to: number }) => {
      const at = (periods: number) => (arrivalS - first / sampleRateHz + periods / f) * pointsPerS;
      let most = 0;
      for (let n = Math.max(0, Math.ceil(at(from))); n <= Math.min(last, at(to)); n++)
        most = Math.max(most, hypot(re[n]!, im[n]!));
      return most;
    };
    const [direct, later] = [greatest(DIRECT), greatest(LATER)];
    return direct > 0 && later > 0 ? Math.max(NOTHING_DB, 20 * log10(later / direct)) : NOTHING_DB;
  });
  return { frequencyHz, levelDb };
}

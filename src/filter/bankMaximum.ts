import { log } from '../elementary/logarithm.js';
import { pow10 } from '../elementary/power.js';
import { sin } from '../elementary/sine.js';
import { type ClosedForm, closedForm, DB_PER_NEPER_POWER, quotient } from './closedForm.js';
import { featureFrequencies } from './featureFrequencies.js';
import type { Filter } from './filter.js';

export interface BankMaximum {
  readonly maxDb: number;
  readonly atHz: number;
}

/**
 * The greatest level of filters in series, between grid points too, to far better than 0.001 dB.
 *
 * The level is taken at points as dense as the sharpest pole or zero near them asks for (`featureFrequencies`) and
 * at both ends; every local maximum among them that could still win is then narrowed down by golden section.
 *
 * @param fromHz 0 unless given; not below 0
 * @param toHz half of `sampleRateHz` unless given; not above it
 * @returns level and place of the maximum; of equal ones the lowest in frequency
 * @throws RangeError where the range is turned round or leaves the axis, or a filter's numbers are none
 */
export function bankMaximum(
  filters: readonly Filter[],
  sampleRateHz: number,
  fromHz = 0,
  toHz = sampleRateHz / 2,
): BankMaximum {
  if (!(fromHz >= 0 && toHz >= fromHz && toHz <= sampleRateHz / 2)) {
    throw new RangeError(
      `the range must lie within 0 to ${sampleRateHz / 2} Hz, lower end first; received ${fromHz} to ${toHz}`,
    );
  }
  let constantDb = 0;
  const forms: ClosedForm[] = [];
  for (const filter of filters) {
    const form = closedForm(filter, sampleRateHz);
    if (typeof form === 'number') constantDb += form;
    else forms.push(form);
  }
  const powerAt = (hz: number): number => bankPower(forms, sampleRateHz, hz);

  const frequencyHz = featureFrequencies(filters, sampleRateHz, fromHz, toHz);
  const power = frequencyHz.map(powerAt);
  const last = frequencyHz.length - 1;
  let at = 0;
  for (let i = 1; i <= last; i += 1) if (power[i]! > power[at]! * BEYOND_NOISE) at = i;
  let best = { power: power[at]!, hz: frequencyHz[at]! };

  // Within one spacing of these points the level cannot climb by anything near 1 dB, so lower peaks have lost.
  const contender = best.power / pow10(0.1);
  for (let i = 0; i <= last; i += 1) {
    const left = Math.max(i - 1, 0);
    const right = Math.min(i + 1, last);
    if (power[i]! < contender || power[i]! < power[left]! || power[i]! < power[right]!) continue;
    // On a plateau there is nothing to climb.
    if (power[i]! <= BEYOND_NOISE * Math.min(power[left]!, power[right]!)) continue;
    const hz = goldenMaximum(powerAt, frequencyHz[left]!, frequencyHz[right]!);
    const found = powerAt(hz);
    if (found > best.power * BEYOND_NOISE) best = { power: found, hz };
  }
  return { maxDb: constantDb + DB_PER_NEPER_POWER * log(best.power), atHz: best.hz };
}

function bankPower(forms: readonly ClosedForm[], sampleRateHz: number, hz: number): number {
  const sinSquared = sin((Math.PI * hz) / sampleRateHz) ** 2;
  const cosSquared = sin((Math.PI * (sampleRateHz / 2 - hz)) / sampleRateHz) ** 2;
  let power = 1;
  for (const form of forms) power *= quotient(form, sinSquared, cosSquared);
  return power;
}

/** Differences of power below 1e-12 (4e-12 dB) are rounding. */
const BEYOND_NOISE = 1 + 1e-12;

/** Place of the maximum of a function with one hump between `from` and `to`, to about 1e-8 of the span. */
function goldenMaximum(of: (x: number) => number, from: number, to: number): number {
  let low = from;
  let high = to;
  let a = high - GOLDEN * (high - low);
  let b = low + GOLDEN * (high - low);
  let atA = of(a);
  let atB = of(b);
  for (let i = 0; i < 38; i += 1) {
    if (atA < atB) {
      low = a;
      a = b;
      atA = atB;
      b = low + GOLDEN * (high - low);
      atB = of(b);
    } else {
      high = b;
      b = a;
      atB = atA;
      a = high - GOLDEN * (high - low);
      atA = of(a);
    }
  }
  return (low + high) / 2;
}

const GOLDEN = (Math.sqrt(5) - 1) / 2;

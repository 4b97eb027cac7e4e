import { log10 } from '../../elementary/logarithm.js';
import { hypot, pow10 } from '../../elementary/power.js';
import type { ImpulseResponse } from '../samples/impulseResponse.js';
import { slidingMean } from '../samples/slidingMean.js';
import { type ComplexSignal, type CompressedImpulse, compressImpulse } from '../sweep/compressedImpulse.js';
import { envelope, peakPosition, valueAt } from './betweenSamples.js';

/** One path by which sound came. */
export interface PathArrival {
  /** In samples of the impulse response, to a fraction of one. */
  readonly position: number;
  /** Height of its compressed pulse, on one scale for all paths. */
  readonly height: number;
  /** Its level over the mean energy around it. */
  readonly contrastDb: number;
}

/** Pulses are taken out down to this level below the strongest. */
const deepestDb = -40;
const most = 300;
/** Mean energy is taken over this span to either side. */
const contrastReachS = 1.5e-3;

/**
 * Every arrival in an impulse response down to 40 dB below the strongest, in order of time.
 *
 * The compressed response is taken to pieces pulse by pulse, the strongest first, each subtracted before the next
 * is looked for, so that neither the flanks of a strong pulse nor its side lobes count as paths of their own.
 * (Högbom 1974, Astron. Astrophys. Suppl. 15, 417: the CLEAN algorithm, here in one dimension with gain 1.)
 */
export function arrivals(impulse: ImpulseResponse): readonly PathArrival[] {
  return separateArrivals(compressImpulse(impulse));
}

export function separateArrivals(compressed: CompressedImpulse): readonly PathArrival[] {
  const { firstSample, sampleRateHz } = compressed;
  const table = tabulate(compressed.pulse, sampleRateHz);
  const rest: ComplexSignal = { re: compressed.signal.re.slice(), im: compressed.signal.im.slice() };
  const full = envelope(rest);
  const reach = contrastReachS * sampleRateHz;
  const around = slidingMean(
    full.map((v) => v * v),
    (i) => i - reach,
    (i) => i + reach,
  );
  const found: PathArrival[] = [];
  const power = full.map((v) => v * v);
  const weakest = power.reduce((a, b) => Math.max(a, b), 0) * pow10(deepestDb / 10);
  while (found.length < most) {
    const index = strongest(power);
    if (!(power[index]! > weakest)) break;
    const position = peakPosition(rest, index);
    const value = valueAt(rest, position);
    subtractPulse(rest, power, table, position, value);
    const height = hypot(value.re, value.im);
    const mean = around[Math.min(around.length - 1, Math.max(0, Math.round(position)))]!;
    found.push({
      position: firstSample + position,
      height,
      contrastDb: 10 * log10(height ** 2 / mean),
    });
  }
  return found.sort((a, b) => a.position - b.position);
}

/** A pulse laid out at fractions of a sample, over ±`reach` samples. */
interface PulseTable {
  readonly reach: number;
  readonly re: readonly Float64Array[];
  readonly im: readonly Float64Array[];
}

const fractions = 32;
const pulseReachS = 10e-3;

function tabulate(pulse: ComplexSignal, sampleRateHz: number): PulseTable {
  const size = pulse.re.length;
  const reach = Math.min(size / 2 - 1, Math.ceil(pulseReachS * sampleRateHz));
  const margin = 32;
  const length = 2 * (reach + margin) + 1;
  // Time zero in the middle, so that interpolation does not have to wrap around.
  const centred = {
    re: Float64Array.from({ length }, (_, i) => pulse.re[(i - reach - margin + size) % size]!),
    im: Float64Array.from({ length }, (_, i) => pulse.im[(i - reach - margin + size) % size]!),
  };
  const re: Float64Array[] = [];
  const im: Float64Array[] = [];
  for (let f = 0; f <= fractions; f++) {
    re.push(new Float64Array(2 * reach + 1));
    im.push(new Float64Array(2 * reach + 1));
    for (let i = 0; i <= 2 * reach; i++) {
      const value = valueAt(centred, i + margin - f / fractions);
      re[f]![i] = value.re;
      im[f]![i] = value.im;
    }
  }
  return { reach, re, im };
}

/** Takes (re + i·im) times the pulse, moved to `position`, out of `rest`, and brings `power` up to date. */
function subtractPulse(
  rest: ComplexSignal,
  power: Float64Array,
  table: PulseTable,
  position: number,
  { re, im }: { re: number; im: number },
): void {
  const { reach } = table;
  const whole = Math.floor(position);
  const exact = (position - whole) * fractions;
  const f = Math.min(fractions - 1, Math.floor(exact));
  const share = exact - f;
  const [re0, re1, im0, im1] = [table.re[f]!, table.re[f + 1]!, table.im[f]!, table.im[f + 1]!];
  const from = Math.max(0, whole - reach);
  const to = Math.min(rest.re.length - 1, whole + reach);
  for (let i = from; i <= to; i++) {
    const at = i - whole + reach;
    const pulseRe = re0[at]! + share * (re1[at]! - re0[at]!);
    const pulseIm = im0[at]! + share * (im1[at]! - im0[at]!);
    rest.re[i] = rest.re[i]! - (re * pulseRe - im * pulseIm);
    rest.im[i] = rest.im[i]! - (re * pulseIm + im * pulseRe);
    power[i] = rest.re[i]! ** 2 + rest.im[i]! ** 2;
  }
}

function strongest(values: Float64Array): number {
  let best = 0;
  for (let i = 1; i < values.length; i++) if (values[i]! > values[best]!) best = i;
  return best;
}

import { exp } from './exponential';
import { BAND_BYTES, bands, types, values } from './memory';
import { both, mul, pairAt } from './pairs';
import { sampleRateHz } from './settings';
import { tan } from './tangent';

// Gain in dB to amplitude's logarithm, and ln Q as it is.
const NEPERS_PER_DB: f64 = 0.057564627324851146;

export const LOW_SHELF: i32 = 1;
const PEAKING: i32 = 0;

export function bandAt(i: i32): usize {
  return bands + <usize>i * BAND_BYTES;
}

export function isPeaking(band: usize): bool {
  return load<f64>(band) === <f64>PEAKING;
}

export function isLowShelf(band: usize): bool {
  return load<f64>(band) === <f64>LOW_SHELF;
}

export function inverseT0Of(band: usize): f64 {
  return load<f64>(band, 8);
}

export function dLnT0Of(band: usize): f64 {
  return load<f64>(band, 16);
}

export function amplitudeOf(band: usize): f64 {
  return load<f64>(band, 24);
}

export function qOf(band: usize): f64 {
  return load<f64>(band, 32);
}

/** What the formulas need of every band: type, 1/tan²(ω0/2), 2 ω0/sin ω0, amplitude and Q, as `bandConstants` has them. */
export function setBands(count: i32): void {
  for (let i = 0; i < count; i++) {
    const band = bandAt(i);
    const numbers = values + <usize>(24 * i);
    const w0 = (2 * Math.PI * f64x2.extract_lane(exp(both(load<f64>(numbers))), 0)) / sampleRateHz;
    const tanHalf = tan(w0 / 2);
    const t0 = tanHalf * tanHalf;
    store<f64>(band, <f64>load<u8>(types + <usize>i));
    store<f64>(band, 1 / t0, 8);
    store<f64>(band, (w0 * (1 + t0)) / tanHalf, 16);
    v128.store(band, exp(mul(pairAt(numbers + 8), f64x2.replace_lane(both(NEPERS_PER_DB), 1, 1))), 24);
  }
}

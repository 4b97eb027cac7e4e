import { BAND_BYTES, bands } from './memory';

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

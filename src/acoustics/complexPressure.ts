import { atan2 } from '../elementary/arctangent.js';
import { log10 } from '../elementary/logarithm.js';

/** Complex pressure on a frequency grid, relative to whatever the function that made it says. */
export interface ComplexPressure {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** 20·log10 |p|; a pressure of exactly zero is held at −400 dB so that the level stays finite. */
export function pressureLevelDb({ re, im }: ComplexPressure): Float64Array {
  return Float64Array.from(re, (x, i) => 10 * log10(Math.max(x * x + im[i]! * im[i]!, 1e-40)));
}

/** Phase in rad, unwrapped upward from the first point: the grid must be fine enough for steps below π. */
export function pressurePhaseRad({ re, im }: ComplexPressure): Float64Array {
  const phaseRad = new Float64Array(re.length);
  let turns = 0;
  let previous = 0;
  for (let i = 0; i < re.length; i++) {
    const wrapped = atan2(im[i]!, re[i]!);
    if (i > 0) turns -= Math.round((wrapped - previous) / (2 * Math.PI));
    previous = wrapped;
    phaseRad[i] = wrapped + 2 * Math.PI * turns;
  }
  return phaseRad;
}

/** a·b at each point. */
export function multiplyPressure(a: ComplexPressure, b: ComplexPressure): ComplexPressure {
  const re = Float64Array.from(a.re, (x, i) => x * b.re[i]! - a.im[i]! * b.im[i]!);
  const im = Float64Array.from(a.re, (x, i) => x * b.im[i]! + a.im[i]! * b.re[i]!);
  return { re, im };
}

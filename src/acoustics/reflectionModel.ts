import { atan } from '../elementary/arctangent.js';
import { cos, sin } from '../elementary/sine.js';
import type { ComplexPressure } from './complexPressure.js';
import { type PlaneGeometry, pathDifferenceM, reflectedPathM } from './imageSource.js';

/**
 * How strongly a speaker's sound comes back from a plane, as a function of frequency:
 *
 *   g(f) = strength / (1 + j·f/cornerHz) · e^(−jk·lagM)
 *
 * It stands for the surface's reflection factor times the speaker's radiation toward the surface over that
 * toward the microphone. A box radiates less toward the rear as the wavelength shrinks to its own size, and what
 * goes there starts late, since it wraps around the box. Both are in the first-order low-pass: its magnitude is
 * strength/√(1 + (f/cornerHz)²), and its phase acts at low frequency like c/(2π·cornerHz) of extra path.
 * `lagM` is extra path beyond that (negative: less), also where the acoustic centre lies off the point that the
 * distances were measured from. This is a parametric stand-in of ours; `sphereBaffle.ts` has the exact series
 * that it is modelled on.
 */
export interface ReflectionModel {
  /** Ratio toward low frequency, 0 to about 1. */
  readonly strength: number;
  /** Where the strength has fallen by 3 dB; Infinity for a reflection that does not depend on frequency. */
  readonly cornerHz: number;
  readonly lagM: number;
}

/**
 * Pressure of direct sound plus one reflection over the direct sound alone:
 * 1 + g·(r/L)·e^(−jk(L−r)) (image source, Allen & Berkley 1979).
 */
export function planePressure(
  frequencyHz: Float64Array,
  plane: PlaneGeometry,
  model: ReflectionModel,
  speedOfSoundMs: number,
): ComplexPressure {
  return sumReflections(frequencyHz, [{ plane, model }], speedOfSoundMs);
}

export interface Reflection {
  readonly plane: PlaneGeometry;
  readonly model: ReflectionModel;
}

export interface SumOptions {
  /**
   * Adds the paths by way of two planes, for planes at right angles to each other: path differences add as squares,
   * L₁₂² = r² + 4·hs₁·hm₁ + 4·hs₂·hm₂, and strengths multiply. Default false.
   */
  readonly secondOrder?: boolean;
}

/** The same for several planes: their reflections add to the direct sound as complex pressure. */
export function sumReflections(
  frequencyHz: Float64Array,
  reflections: readonly Reflection[],
  speedOfSoundMs: number,
  options: SumOptions = {},
): ComplexPressure {
  const re = new Float64Array(frequencyHz.length).fill(1);
  const im = new Float64Array(frequencyHz.length);
  const sum = { re, im };
  for (const { plane, model } of reflections) {
    addPath(
      sum,
      frequencyHz,
      plane.r / reflectedPathM(plane),
      pathDifferenceM(plane),
      [model],
      speedOfSoundMs,
    );
  }
  if (options.secondOrder) {
    for (const [first, second] of pairs(reflections)) {
      const r = first.plane.r;
      const pathM = Math.sqrt(
        r * r + 4 * first.plane.hs * first.plane.hm + 4 * second.plane.hs * second.plane.hm,
      );
      addPath(sum, frequencyHz, r / pathM, pathM - r, [first.model, second.model], speedOfSoundMs);
    }
  }
  return sum;
}

/** Magnitude of the relative reflection ρ(f) = |g(f)|·r/L that a comb's depth depends on. */
export function relativeReflection(
  frequencyHz: number,
  plane: PlaneGeometry,
  model: ReflectionModel,
): number {
  const fall = frequencyHz / model.cornerHz;
  return (model.strength / Math.sqrt(1 + fall * fall)) * (plane.r / reflectedPathM(plane));
}

/**
 * Frequencies up to `maxHz` where the reflection with its lag arrives in opposite phase, ascending: solves
 * 2πf·(Δ + lag)/c + atan(f/cornerHz) = (2n−1)·π. They lie below the bare geometry's.
 */
export function laggedCancellationsHz(
  differenceM: number,
  model: ReflectionModel,
  maxHz: number,
  speedOfSoundMs: number,
): number[] {
  const slope = (2 * Math.PI * (differenceM + model.lagM)) / speedOfSoundMs;
  const result: number[] = [];
  if (slope <= 0) return result;
  for (let n = 1; ; n++) {
    const phaseRad = (2 * n - 1) * Math.PI;
    // The phase grows with f and bends downward, so Newton from below converges without overshoot.
    let f = (phaseRad - Math.PI / 2) / slope;
    for (let step = 0; step < 30; step++) {
      const u = f / model.cornerHz;
      const missing = phaseRad - slope * f - atan(u);
      f += missing / (slope + 1 / (model.cornerHz * (1 + u * u)));
    }
    if (!(f <= maxHz)) return result;
    result.push(f);
  }
}

/** Adds strength·spread·e^(−jk·Δ) for one path whose models multiply. */
function addPath(
  sum: ComplexPressure,
  frequencyHz: Float64Array,
  spread: number,
  differenceM: number,
  models: readonly ReflectionModel[],
  speedOfSoundMs: number,
): void {
  const { re, im } = sum;
  let lagM = differenceM;
  let strength = spread;
  for (const model of models) {
    lagM += model.lagM;
    strength *= model.strength;
  }
  const delayS = lagM / speedOfSoundMs;
  for (let i = 0; i < frequencyHz.length; i++) {
    const f = frequencyHz[i]!;
    let magnitude = strength;
    let phaseRad = -2 * Math.PI * f * delayS;
    for (const { cornerHz } of models) {
      const fall = f / cornerHz;
      magnitude /= Math.sqrt(1 + fall * fall);
      phaseRad -= atan(fall);
    }
    re[i]! += magnitude * cos(phaseRad);
    im[i]! += magnitude * sin(phaseRad);
  }
}

function pairs<T>(items: readonly T[]): [T, T][] {
  return items.flatMap((a, i) => items.slice(i + 1).map((b): [T, T] => [a, b]));
}

import { type SphereSeries, sphereSeries, sumSphereSeries } from '../acoustics/sphereBaffle.js';
import { atan2 } from '../elementary/arctangent.js';
import { log10 } from '../elementary/logarithm.js';
import { cos, sin } from '../elementary/sine.js';

/** A plane as the model has it: distances in metres, reflection factor toward low and high frequency. */
export interface MirrorPlane {
  readonly hs: number;
  readonly hm: number;
  readonly low: number;
  readonly high: number;
  /** Where the factor is half way between the two. */
  readonly turnHz: number;
}

/** Frequencies of a model with what does not change during a fit. */
export interface MirrorGrid {
  readonly frequencyHz: Float64Array;
  readonly speedOfSoundMs: number;
  /** Radius of the sphere that stands for the cabinet. */
  readonly radiusM: number;
  readonly series: readonly SphereSeries[];
  /** What each radiates straight ahead, as re + j·im. */
  readonly ahead: readonly { readonly re: number; readonly im: number }[];
}

/** Indices of the planes that a path meets, one or two. */
export type Meeting = readonly number[];

/**
 * Above this a cabinet's drivers beam and surfaces scatter, so the sphere says no more of levels; the last one is kept,
 * and the sound goes on to lag by the detour around the sphere.
 */
const SPHERE_TO_HZ = 4000;
/** The far field of a sphere with its source in front falls with the distance from 1.5 radii before the centre. */
const ACOUSTIC_CENTRE = 1.5;
const LEAST_M = 0.01;
const LEAST_SPREAD_M = 0.05;

export function mirrorGrid(frequencyHz: Float64Array, speedOfSoundMs: number, radiusM: number): MirrorGrid {
  const series = Array.from(frequencyHz, (f) =>
    sphereSeries((2 * Math.PI * Math.min(f, SPHERE_TO_HZ) * radiusM) / speedOfSoundMs),
  );
  const ahead = series.map((each) => sumSphereSeries(each, 1));
  return { frequencyHz, speedOfSoundMs, radiusM, series, ahead };
}

/** What one path is before reflection: how it leaves the cabinet, how far it goes. Relative to the direct sound. */
export interface Radiated {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** Way from the sphere's centre to the microphone by way of the planes met, and the angle at which it leaves. */
export function pathGeometry(
  radiusM: number,
  directM: number,
  behindM: number,
  met: readonly Pick<MirrorPlane, 'hs' | 'hm'>[],
) {
  const r = directM + behindM;
  let squaredM2 = r * r;
  let along = r * r;
  for (const { hs, hm } of met) {
    const toward = Math.max(-1, Math.min(1, (hm - hs) / directM));
    const centreM = Math.max(LEAST_M, hs - behindM * toward);
    squaredM2 += 4 * centreM * hm;
    along -= 2 * hm * (hm - centreM);
  }
  const pathM = Math.sqrt(squaredM2);
  const cosTheta = Math.max(-1, Math.min(1, along / (r * pathM)));
  const nearest = (m: number) => Math.max(LEAST_SPREAD_M, m);
  const spread =
    nearest(r - ACOUSTIC_CENTRE * radiusM) / nearest(pathM - ACOUSTIC_CENTRE * radiusM * cosTheta);
  return { r, pathM, cosTheta, spread };
}

/**
 * The radiation toward the mirror image in the planes met over that straight to the microphone, the cabinet taken as a
 * rigid sphere with its source facing the microphone (`acoustics/sphereBaffle.ts`), path lengths and spreading
 * included (image source, Allen & Berkley 1979).
 *
 * @param directM straight from the front baffle to the microphone
 * @param behindM how far the sphere's centre lies behind the front baffle
 */
export function radiatedPath(
  grid: MirrorGrid,
  directM: number,
  behindM: number,
  met: readonly Pick<MirrorPlane, 'hs' | 'hm'>[],
): Radiated {
  const { frequencyHz, speedOfSoundMs, series } = grid;
  const { r, pathM, cosTheta, spread } = pathGeometry(grid.radiusM, directM, behindM, met);
  const detourM = grid.radiusM * detourRadii(cosTheta);
  const n = frequencyHz.length;
  const re = new Float64Array(n);
  const im = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const f = frequencyHz[i]!;
    const there = sumSphereSeries(series[i]!, cosTheta);
    const ahead = grid.ahead[i]!;
    const norm = spread / (ahead.re * ahead.re + ahead.im * ahead.im);
    const a = (there.re * ahead.re + there.im * ahead.im) * norm;
    const b = (there.im * ahead.re - there.re * ahead.im) * norm;
    const travelled = f * (pathM - r) + Math.max(0, f - SPHERE_TO_HZ) * detourM;
    const phase = (-2 * Math.PI * travelled) / speedOfSoundMs;
    const cosine = cos(phase);
    const sine = sin(phase);
    re[i] = a * cosine - b * sine;
    im[i] = a * sine + b * cosine;
  }
  return { re, im };
}

/**
 * How much farther than straight ahead, in radii of a sphere with its source in front, a plane wavefront far away lies from
 * the source where the wave is short: straight where the source is seen, along the sphere to the shadow's edge beyond
 * (Keller, "Geometrical theory of diffraction", 1962).
 */
export function detourRadii(cosTheta: number): number {
  if (cosTheta >= 0) return 1 - cosTheta;
  return 1 + atan2(-cosTheta, Math.sqrt(1 - cosTheta * cosTheta));
}

/** A plane's reflection factor: high + (low − high)/(1 + j·f/turnHz), of minimum phase. */
export function reflectionFactor({ low, high, turnHz }: MirrorPlane, frequencyHz: number) {
  const t = frequencyHz / turnHz;
  const shelf = (low - high) / (1 + t * t);
  return { re: high + shelf, im: -shelf * t };
}

/**
 * Level of direct sound plus all paths over the direct sound alone, in dB.
 *
 * @param latePower of all later sound over the direct sound's: fills the nulls
 */
export function mirrorLevelDb(
  grid: MirrorGrid,
  planes: readonly MirrorPlane[],
  meetings: readonly Meeting[],
  radiated: readonly Radiated[],
  latePower: number,
): Float64Array {
  const { frequencyHz } = grid;
  return frequencyHz.map((f, i) => {
    let re = 1;
    let im = 0;
    for (let p = 0; p < meetings.length; p++) {
      let a = radiated[p]!.re[i]!;
      let b = radiated[p]!.im[i]!;
      for (const k of meetings[p]!) {
        const { re: x, im: y } = reflectionFactor(planes[k]!, f);
        [a, b] = [a * x - b * y, a * y + b * x];
      }
      re += a;
      im += b;
    }
    return 10 * log10((re * re + im * im + latePower) / (1 + latePower));
  });
}

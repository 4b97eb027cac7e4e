import { acos, atan, atan2 } from '../../src/elementary/arctangent.js';
import { cosh, exp, expm1, pow2, sinh, tanh } from '../../src/elementary/exponential.js';
import { asinh, log, log1p, log2, log10 } from '../../src/elementary/logarithm.js';
import { cbrt, hypot, pow, pow10 } from '../../src/elementary/power.js';
import { cos, sin, tan } from '../../src/elementary/sine.js';
import {
  type Design,
  type DesignRequest,
  design,
  type PredictionRequest,
  predictionReport,
  type VerifyRequest,
  verifyDesign,
} from '../../src/index.js';

/** Every elementary function of 4000 numbers. */
export function elementaryValues(): Record<string, number[]> {
  const args = Array.from({ length: 4000 }, (_, i) => 1e-4 + 0.0371 * i);
  const of: Record<string, (x: number) => number> = {
    acos: (x) => acos(x / 200),
    asinh,
    atan,
    atan2: (x) => atan2(x - 70, 1.7),
    cbrt,
    cos,
    cosh,
    exp: (x) => exp(-x / 100),
    expm1: (x) => expm1(-x / 1000),
    hypot: (x) => hypot(x, 1.7),
    log,
    log10,
    log1p,
    log2,
    pow: (x) => pow(x, 1.7),
    pow10: (x) => pow10(x / 1000),
    pow2: (x) => pow2(x / 48),
    sin,
    sinh: (x) => sinh(x / 1000),
    tan,
    tanh,
  };
  return Object.fromEntries(Object.entries(of).map(([name, each]) => [name, args.map(each)]));
}

/** One thing to be reckoned: a design, what a change of place would do, or what became of a design. */
export type Job =
  | { readonly design: DesignRequest }
  | { readonly predict: PredictionRequest }
  | { readonly verify: VerifyRequest };

export type Answer = Design | ReturnType<typeof predictionReport> | ReturnType<typeof verifyDesign>;

export function answer(job: Job): Answer {
  if ('design' in job) return design(job.design);
  if ('predict' in job) return predictionReport(job.predict);
  return verifyDesign(job.verify);
}

/** Typed arrays do not cross into a page or another program by themselves. */
export const packed = (jobs: readonly Job[]): string =>
  JSON.stringify(jobs, (_, each) =>
    ArrayBuffer.isView(each) ? { packed: Array.from(each as Float64Array) } : each,
  );

/** The answers to packed jobs, as JSON. */
export function answered(text: string): string {
  const jobs: Job[] = JSON.parse(text, (_, each) => (each?.packed ? Float64Array.from(each.packed) : each));
  return JSON.stringify(jobs.map(answer));
}

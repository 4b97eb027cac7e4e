import {
  type Design,
  type DesignRequest,
  design,
  type PredictionRequest,
  predictionReport,
  type VerifyRequest,
  verifyDesign,
} from '../../src/index.js';

/** Math.* of many arguments, for which the standard leaves the last digit to the engine. */
export const FUNCTIONS = [
  'sin',
  'cos',
  'tan',
  'exp',
  'log',
  'log2',
  'log10',
  'pow',
  'hypot',
  'atan2',
  'cbrt',
  'sinh',
  'tanh',
  'expm1',
  'log1p',
  'asinh',
] as const;

export function mathValues(): Record<string, number[]> {
  const args = Array.from({ length: 4000 }, (_, i) => 1e-4 + 0.0371 * i);
  const of: Record<string, (x: number) => number> = {
    pow: (x) => 10 ** (x / 1000),
    hypot: (x) => Math.hypot(x, 1.7),
    atan2: (x) => Math.atan2(x, 1.7),
    exp: (x) => Math.exp(-x / 100),
    sinh: (x) => Math.sinh(x / 1000),
    expm1: (x) => Math.expm1(-x / 1000),
  };
  return Object.fromEntries(
    FUNCTIONS.map((name) => [name, args.map(of[name] ?? (Math[name] as (x: number) => number))]),
  );
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

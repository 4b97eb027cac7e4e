import type { DesignRequest } from '../../src/index.js';
import { design } from '../../src/index.js';

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

export function designs(requests: readonly DesignRequest[]) {
  return requests.map((request) => design(request));
}

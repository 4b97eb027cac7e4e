import type { Design } from '../../schema/design.js';

/** A limit as it bound, and as it was asked for where the device has less. */
export interface AllowedLimit {
  readonly value: number;
  readonly asked?: number;
}

type Limit = 'bands' | 'maxBoostDb' | 'maxCutDb' | 'minQ' | 'maxQ';

/** Nearer than that nobody sees a difference: a device's grid seldom has the very number. */
const SAME = 0.005;

/** What really bound: the limit asked for, or that of the device where it is tighter. */
export function allowedLimit({ limits }: Pick<Design, 'limits'>, name: Limit): AllowedLimit {
  const asked = limits[name];
  const value = limits.withDevice?.[name] ?? asked;
  return Math.abs(value - asked) <= SAME * Math.abs(asked) ? { value: asked } : { value, asked };
}

/** The words that follow a limit which the device made tighter; none where it did not. */
export function askedWords({ asked }: AllowedLimit, format: (value: number) => string): string {
  return asked === undefined ? '' : ` (the equalizer; ${format(asked)} asked for)`;
}

import type { FrequencyRange } from '../curve/curve.js';
import { InputError } from '../inputError.js';
import type { Measurement } from '../measurement/measurement.js';
import { formatFrequency } from '../units/formatFrequency.js';

/** How far measurements can be trusted, where they say so. */
export interface TrustedSpan extends FrequencyRange {
  /** What lies below is not resolved: by the shortest gate or recording. */
  readonly resolvedFromHz: number;
  /** Beyond it no sweep went, where that is known. */
  readonly swept?: FrequencyRange;
}

/**
 * The span in which every measurement is to be trusted; undefined where none states any limit.
 *
 * @throws InputError where they have no such span in common
 */
export function trustedSpan(measurements: readonly Measurement[]): TrustedSpan | undefined {
  const limited = measurements.filter(({ trusted, resolvedFromHz }) => trusted ?? resolvedFromHz);
  if (limited.length === 0) return undefined;
  const resolvedFromHz = Math.max(0, ...limited.map((each) => each.resolvedFromHz ?? 0));
  const fromHz = Math.max(resolvedFromHz, ...limited.map(({ trusted }) => trusted?.fromHz ?? 0));
  const toHz = Math.min(...limited.map(({ trusted }) => trusted?.toHz ?? Number.POSITIVE_INFINITY));
  const sweeps = measurements.flatMap(({ swept }) => swept ?? []);
  const swept = sweeps.length > 0 && {
    fromHz: Math.max(...sweeps.map((sweep) => sweep.fromHz)),
    toHz: Math.min(...sweeps.map((sweep) => sweep.toHz)),
  };
  if (fromHz < toHz) return { fromHz, toHz, resolvedFromHz, ...(swept && { swept }) };
  throw new InputError(
    `the measurements are nowhere all resolved and clear of noise; found ${limited
      .map(({ fileName, trusted, resolvedFromHz: hz }) =>
        trusted
          ? `${fileName} ${formatFrequency(trusted.fromHz)} to ${formatFrequency(trusted.toHz)}`
          : `${fileName} from ${formatFrequency(hz!)}`,
      )
      .join('; ')}`,
  );
}

import type { Curve } from '../curve/curve.js';
import { sliceCurve } from '../curve/sliceCurve.js';
import type { KeptSound, Measurement } from '../measurement/measurement.js';
import type { Warning } from '../warning.js';
import { prepareMeasurements } from './prepareMeasurements.js';

/**
 * Measurements at several places as one curve, averaged as a fit does it: power average on the common grid. A single one
 * stays as it is. What no sweep went through is left out: there is no sound in it.
 *
 * @param asRead one or more, calibrated, levels in dB
 * @throws InputError where they have too little in common
 */
export function averageMeasurements(asRead: readonly Measurement[]): {
  readonly curve: Curve;
  readonly warnings: readonly Warning[];
  /** The highest of them: nothing below is resolved in all. */
  readonly resolvedFromHz?: number;
  /** The shortest, where that of each is known. */
  readonly kept?: KeptSound;
} {
  const measurements = asRead.map(whereSwept);
  if (measurements.length === 1) return measurements[0]!;
  const kept = shortestKept(measurements);
  const resolvedFromHz = Math.max(...measurements.map((measurement) => measurement.resolvedFromHz ?? 0));
  const { curve, referenceDb, warnings } = prepareMeasurements({ title: '', measurements });
  const { frequencyHz, levelDb } = curve;
  return {
    curve: { frequencyHz, levelDb: levelDb.map((db) => db + referenceDb) },
    warnings,
    ...(resolvedFromHz > 0 && { resolvedFromHz }),
    ...(kept && { kept }),
  };
}

function whereSwept(measurement: Measurement): Measurement {
  if (!measurement.swept) return measurement;
  const curve = sliceCurve(measurement.curve, measurement.swept);
  return curve.frequencyHz.length > 0 ? { ...measurement, curve } : measurement;
}

/** The shortest, where that of each is known. */
export function shortestKept(measurements: readonly Measurement[]): KeptSound | undefined {
  const all = measurements.flatMap(({ kept }) => kept ?? []);
  if (all.length < measurements.length) return undefined;
  return all.reduce((shortest, kept) => (kept.afterS < shortest.afterS ? kept : shortest));
}

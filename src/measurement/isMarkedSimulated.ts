import type { Measurement } from './measurement.js';

/** Whether the comments of a measurement say that it was simulated. */
export function isMarkedSimulated(measurement: Pick<Measurement, 'comments'>): boolean {
  return measurement.comments.some(
    (line) => /\bsimulat(?:ed|ion)\b/i.test(line) && !/\bnot simulat/i.test(line),
  );
}

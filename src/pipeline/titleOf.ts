import { isMarkedSimulated } from '../measurement/isMarkedSimulated.js';
import type { Measurement } from '../measurement/measurement.js';

/** What to call measurements that the user gave no name: their files. Simulated ones say so. */
export function titleOf(measurements: readonly Pick<Measurement, 'fileName' | 'comments'>[]): string {
  const names = measurements.map(({ fileName }) => fileName.replace(/^.*[/\\](?=[^/\\])/, ''));
  const [first] = names;
  const files = names.length > 3 ? `${first} and ${names.length - 1} more positions` : names.join(', ');
  return measurements.some(isMarkedSimulated) ? `${files} (simulated)` : files;
}

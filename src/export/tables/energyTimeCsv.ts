import type { EnergyTimeCurve } from '../../impulse/arrivals/energyTimeCurve.js';

/** How the energy arrives over time, RFC 4180: time from the direct sound, level relative to it. */
export function energyTimeCsv({ timeS, levelDb }: EnergyTimeCurve): string {
  const rows = Array.from(timeS, (s, i) => [(1000 * s).toFixed(4), levelDb[i]!.toFixed(2)]);
  return [['time from the direct sound (ms)', 'level (dB re direct sound)'], ...rows]
    .map((row) => `${row.join(',')}\r\n`)
    .join('');
}

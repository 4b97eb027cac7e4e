import type { Curve } from '../../src/curve/curve.js';

/** Level in dB of one cookbook peaking filter in the limit of a high sample rate. */
export function peakDb(hz: number, centreHz: number, gainDb: number, q: number): number {
  const w = hz / centreHz;
  const a = 10 ** (gainDb / 40);
  const x = (1 - w * w) ** 2;
  return 10 * Math.log10((x + ((a * w) / q) ** 2) / (x + (w / (a * q)) ** 2));
}

/** A vented box (24 dB per octave below `cornerHz`, −3 dB there) with a few resonances on it. */
export function speakerDb(hz: number, cornerHz = 60): number {
  return (
    80 -
    10 * Math.log10(1 + (cornerHz / hz) ** 8) +
    peakDb(hz, 110, 5, 4) +
    peakDb(hz, 330, -6, 3) +
    peakDb(hz, 1250, 3, 2) +
    peakDb(hz, 4100, -4, 5) +
    peakDb(hz, 9000, 3, 3)
  );
}

export function curveOf(frequencyHz: Float64Array, levelAt: (hz: number) => number): Curve {
  return { frequencyHz, levelDb: frequencyHz.map((hz) => levelAt(hz)) };
}

/** `perOctave` points an octave from `fromHz` on, not on the common grid. */
export function logPoints(fromHz: number, toHz: number, perOctave: number): Float64Array {
  const n = Math.floor(perOctave * Math.log2(toHz / fromHz)) + 1;
  return Float64Array.from({ length: n }, (_, i) => fromHz * 2 ** (i / perOctave));
}

export function linearPoints(fromHz: number, toHz: number, stepHz: number): Float64Array {
  const n = Math.floor((toHz - fromHz) / stepHz + 1e-9) + 1;
  return Float64Array.from({ length: n }, (_, i) => fromHz + i * stepHz);
}

export function greatestDifference(a: Float64Array, b: Float64Array): number {
  if (a.length !== b.length) throw new Error(`lengths differ: ${a.length}, ${b.length}`);
  return a.reduce((most, v, i) => Math.max(most, Math.abs(v - b[i]!)), 0);
}

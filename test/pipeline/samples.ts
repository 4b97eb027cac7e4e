import type { Curve } from '../../src/curve/curve.js';
import type { Measurement } from '../../src/measurement/measurement.js';
import { readMeasurementText } from '../../src/measurement/readMeasurementText.js';
import { DEFAULT_LIMITS, type DesignRequest } from '../../src/pipeline/designRequest.js';

export type Response = (hz: number) => number;

/** Analogue peaking response, the form that the cookbook's takes far below half the sample rate. */
export const bell =
  (centreHz: number, gainDb: number, q: number): Response =>
  (hz) => {
    const w = hz / centreHz;
    const A = 10 ** (gainDb / 40);
    const u = (1 - w * w) ** 2;
    return 10 * Math.log10((u + ((A * w) / q) ** 2) / (u + (w / (A * q)) ** 2));
  };

/** A dip of `depthDb` and nothing beyond its skirts, `octaves` wide at half its depth. */
export const lonelyNull =
  (centreHz: number, depthDb: number, octaves: number): Response =>
  (hz) =>
    -depthDb * 0.5 ** ((Math.log2(hz / centreHz) / (octaves / 2)) ** 2);

/** Fall of a vented box, 3 dB at its corner. */
export const ventedFall =
  (cornerHz: number): Response =>
  (hz) =>
    -10 * Math.log10(1 + (cornerHz / hz) ** 8);

export const sum =
  (...parts: readonly Response[]): Response =>
  (hz) =>
    parts.reduce((total, part) => total + part(hz), 0);

export function curveOf(response: Response, points = 900, fromHz = 20, toHz = 20000): Curve {
  const frequencyHz = Float64Array.from(
    { length: points },
    (_, i) => fromHz * (toHz / fromHz) ** (i / (points - 1)),
  );
  return { frequencyHz, levelDb: frequencyHz.map(response) };
}

export function measurementOf(curve: Curve, fileName = 'simulated.txt'): Measurement {
  return { fileName, curve, comments: ['simulated'], rows: curve.frequencyHz.length, warnings: [] };
}

/** As a file would give it. */
export function measurementOfRows(rows: readonly string[], fileName = 'simulated.txt'): Measurement {
  return readMeasurementText(new TextEncoder().encode(`# simulated\n${rows.join('\n')}\n`), fileName);
}

export function requestOf(
  measurement: Measurement | readonly Measurement[],
  options: Partial<DesignRequest> = {},
): DesignRequest {
  return {
    title: 'simulated',
    measurements: Array.isArray(measurement) ? measurement : [measurement as Measurement],
    target: {},
    ...DEFAULT_LIMITS,
    ...options,
  };
}

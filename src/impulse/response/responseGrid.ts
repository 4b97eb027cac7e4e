import { logGrid } from '../../curve/logGrid.js';
import { pow2 } from '../../elementary/exponential.js';

export interface ResponseGridOptions {
  readonly sampleRateHz: number;
  /** What the gate resolves, 1/T. */
  readonly resolutionHz: number;
  readonly fromHz?: number;
  readonly toHz?: number;
  readonly perOctave?: number;
  readonly atMost?: number;
}

/**
 * Frequencies that lose nothing of a gated response: a logarithmic grid of twice the density of the common one where
 * that is finer than half of what the gate resolves, and above it steps of half of that, as a spectrum of finite time
 * needs no more. Where that would make more than `atMost` points, larger steps.
 */
export function responseGrid(options: ResponseGridOptions): Float64Array {
  const { sampleRateHz, resolutionHz, perOctave = 96, atMost = 8192 } = options;
  const { fromHz = 10, toHz = Math.min(24_000, 0.4999 * sampleRateHz) } = options;
  for (let stepHz = resolutionHz / 2; ; stepHz *= 1.1) {
    const changeHz = stepHz / (pow2(1 / perOctave) - 1);
    const low = logGrid(fromHz, Math.min(toHz, changeHz), perOctave);
    const start = low.at(-1) ?? fromHz - stepHz;
    const count = Math.max(0, Math.floor((toHz - start) / stepHz));
    if (low.length + count <= atMost || changeHz >= toHz)
      return Float64Array.from([
        ...low,
        ...Array.from({ length: count }, (_, i) => start + (i + 1) * stepHz),
      ]);
  }
}

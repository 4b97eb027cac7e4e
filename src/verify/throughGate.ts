import type { Curve } from '../curve/curve.js';
import { interpolateLevel } from '../curve/interpolateLevel.js';
import { log10 } from '../elementary/logarithm.js';
import { hypot, pow10 } from '../elementary/power.js';
import { cos, sin } from '../elementary/sine.js';
import { bankResponseDb } from '../filter/bankResponseDb.js';
import type { Filter } from '../filter/filter.js';
import { createBankRunner } from '../filter/runBank.js';
import { minimumPhaseImpulse } from '../impulse/phase/minimumPhaseImpulse.js';
import { gateWeight } from '../impulse/response/gate.js';
import { powerOfTwoAtLeast } from '../impulse/samples/fft.js';
import type { KeptSound } from '../measurement/measurement.js';

/** What a gate makes of filters. */
export interface ThroughGate {
  readonly afterS: number;
  /**
   * Level that the measurement shows of a bank, less the bank's own, in dB.
   *
   * @param stretch the response lies this many times higher on the frequency axis
   */
  correctionDb(
    filters: readonly Filter[],
    sampleRateHz: number,
    frequencyHz: Float64Array,
    stretch?: number,
  ): Float64Array;
}

/** What rings past a gate rings low: more samples only make the same sums longer … */
const MOST_SAMPLES = 1000;
/** … as long as so many times its frequency are left of the rate. */
const LEAST_RATIO = 20;
/** In so many time constants a filter has fallen by 43 dB. */
const RUNG_OUT = 5;
/** Nearer to half the rate no filter rings past a gate, and warping would differ from that at the design's rate. */
const HIGHEST_SHARE = 0.4;
/** So finely are levels laid out for the minimum phase; a gate resolves nothing near that. */
const BINS_S = 0.5;
const NEPER_PER_DB = Math.LN10 / 20;

/**
 * The response of filters that ring past the end of a gate, as the gate shows it. Of a speaker h through filters g a
 * gate w keeps w·(h∗g), of the speaker alone w·h, and the difference of their levels is not that of g. Within the gate
 * both are known from the speaker as it was measured through the same gate: h∗g at a time is made of no later h. Its
 * phase is taken for the minimum phase of its level, which a speaker and what is weaker than its direct sound have
 * (Oppenheim & Schafer). On simulated speakers with resonances and reflections 0.01 to 0.05 dB RMS are left so where
 * the filters' own response is 0.1 to 0.7 dB off.
 *
 * @param before measured without the filters, through the same gate
 */
export function throughGate(
  before: Curve,
  { afterS, fades }: KeptSound,
  {
    filters: promised,
    sampleRateHz: designRateHz,
  }: { readonly filters: readonly Filter[]; readonly sampleRateHz: number },
): ThroughGate {
  const ringingHz = promised
    .filter((filter) => ringsPast(filter, afterS))
    .map((filter) => filter.frequencyHz);
  let rateHz = designRateHz;
  while (afterS * rateHz > MOST_SAMPLES && rateHz / 2 > LEAST_RATIO * Math.max(...ringingHz)) rateHz /= 2;
  const length = Math.floor(afterS * rateHz) + 1;
  const weights = Float64Array.from({ length }, (_, n) => (fades ? gateWeight(n, 0, afterS * rateHz) : 1));
  const alone = impulseOf(before, rateHz, length);
  const seenDb = (filters: readonly Filter[], frequencyHz: Float64Array): Float64Array => {
    const samples = alone.slice();
    createBankRunner(filters, rateHz, 0)(samples);
    for (let n = 0; n < length; n++) samples[n] = weights[n]! * samples[n]!;
    return frequencyHz.map((hz) => levelAt(samples, hz / rateHz));
  };
  let last: { readonly grid: Float64Array; readonly levelDb: Float64Array } | undefined;
  return {
    afterS,
    correctionDb: (filters, sampleRateHz, frequencyHz, stretch = 1) => {
      const topHz = HIGHEST_SHARE * rateHz;
      const low = filters.flatMap((filter) => {
        const hz = filter.frequencyHz * stretch;
        return hz < topHz && hz < sampleRateHz / 2 ? [{ ...filter, frequencyHz: hz }] : [];
      });
      const grid = frequencyHz.map((hz) => Math.min(hz, topHz));
      if (last?.grid !== frequencyHz) last = { grid: frequencyHz, levelDb: seenDb([], grid) };
      const without = last.levelDb;
      const own = bankResponseDb(low, rateHz, grid);
      return seenDb(low, grid).map((db, i) => (frequencyHz[i]! > topHz ? 0 : db - without[i]! - own[i]!));
    },
  };
}

/**
 * Whether a filter has not rung out by then. Poles of angular frequency ω and quality Q decay with the time constant
 * 2Q/ω; those of a boost have the cookbook's Q times A.
 */
export function ringsPast({ type, frequencyHz, gainDb, q }: Filter, afterS: number): boolean {
  const poleQ = type === 'peaking' ? q * pow10(gainDb / 40) : q;
  return afterS < (RUNG_OUT * poleQ) / (Math.PI * frequencyHz);
}

/** The beginning of the minimum-phase impulse response with these levels, which stay as they are at the ends beyond them. */
function impulseOf(curve: Curve, rateHz: number, length: number): Float64Array {
  const size = powerOfTwoAtLeast(Math.max(BINS_S * rateHz, 4 * length));
  const topDb = curve.levelDb.reduce((top, db) => Math.max(top, db), Number.NEGATIVE_INFINITY);
  const logMagnitude = Float64Array.from({ length: size / 2 + 1 }, (_, k) => {
    const hz = Math.max((k * rateHz) / size, curve.frequencyHz[0]!);
    return NEPER_PER_DB * (interpolateLevel(curve, hz) - topDb);
  });
  return minimumPhaseImpulse(logMagnitude).slice(0, length);
}

/** Level of the spectrum at a share of the sample rate, by Horner's rule in e^(−iω). */
function levelAt(samples: Float64Array, share: number): number {
  const re = cos(2 * Math.PI * share);
  const im = -sin(2 * Math.PI * share);
  let x = 0;
  let y = 0;
  for (let n = samples.length - 1; n >= 0; n--) {
    const next = x * re - y * im + samples[n]!;
    y = x * im + y * re;
    x = next;
  }
  return 20 * log10(Math.max(hypot(x, y), Number.MIN_VALUE));
}

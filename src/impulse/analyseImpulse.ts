import type { Curve, FrequencyRange } from '../curve/curve.js';
import { isInside } from '../curve/isInside.js';
import { InputError } from '../inputError.js';
import type { Warning } from '../warning.js';
import { autoGate, firstStrongReflection } from './arrivals/autoGate.js';
import { findPaths, type Paths, type Reflection } from './arrivals/paths.js';
import { frequencyDependentWindow } from './response/frequencyDependentWindow.js';
import { type Gate, gateImpulse } from './response/gate.js';
import { impulseToCurve } from './response/impulseToCurve.js';
import { mergedCurve } from './response/mergedCurve.js';
import { responseGrid } from './response/responseGrid.js';
import type { ImpulseResponse } from './samples/impulseResponse.js';
import { type OctaveNoise, signalToNoise } from './signalToNoise.js';

/** `auto` ends the gate before the first strong reflection, if any; `none` takes all there is. */
export type GateChoice = 'auto' | 'none' | { readonly afterS: number; readonly beforeS?: number };

export interface ImpulseAnalysisOptions {
  /** `auto` unless given. */
  readonly gate?: GateChoice;
  /** Gated above a crossover, ungated below. Needs a gate; where `auto` finds nothing to gate off, one curve is all. */
  readonly merged?: boolean;
  /** Of the merged curve; twice what the gate resolves unless given. */
  readonly crossoverHz?: number;
  /** Instead of a gate: a window of so many periods at each frequency. */
  readonly cycles?: number;
  readonly speedOfSoundMPerS?: number;
  /** Those of another analysis of the same response at the same speed of sound, which are then not searched again. */
  readonly paths?: Paths;
  /** Without it a grid that loses nothing. */
  readonly frequencyHz?: Float64Array;
}

export interface ImpulseAnalysis {
  /** From the start of the file. */
  readonly arrivalS: number;
  /** As used, relative to the arrival; without a gate the whole file. */
  readonly gate: Gate;
  /** Whether that is a gate and not the whole file. */
  readonly isGated: boolean;
  /** Below it the curve is not resolved: neither to be trusted nor fitted. */
  readonly resolvedFromHz: number;
  readonly reflections: readonly Reflection[];
  readonly curve: Curve;
  /** 1 where the curve is resolved, at least 10 dB above the noise and within what was swept, else 0. */
  readonly trusted: Uint8Array;
  /** The widest span without an untrusted point; absent where nothing is to be trusted. */
  readonly trustedRange?: FrequencyRange;
  /** By octave, where there is a stretch of file to take the noise from. */
  readonly octaves?: readonly OctaveNoise[];
  /** Where gated and ungated were joined. */
  readonly splice?: { readonly crossoverHz: number; readonly levelDb: number };
  readonly warnings: readonly Warning[];
}

const trustedFromDb = 10;
/** Noise beyond what anybody hears is no matter. */
const audible: FrequencyRange = { fromHz: 20, toHz: 20000 };
const defaultBeforeS = 2e-3;

/**
 * From an impulse response to a curve, and how far to trust it.
 *
 * @throws InputError where the response is silent, or a gate does not fit it
 */
export function analyseImpulse(
  impulse: ImpulseResponse,
  options: ImpulseAnalysisOptions = {},
): ImpulseAnalysis {
  const { samples, sampleRateHz } = impulse;
  if (!samples.some((v) => v !== 0)) throw new InputError('every sample is 0; expected an impulse response');
  const { gate: choice = 'auto', cycles, speedOfSoundMPerS } = options;
  const paths =
    options.paths ?? findPaths(impulse, speedOfSoundMPerS === undefined ? {} : { speedOfSoundMPerS });
  const { arrivalS, reflections } = paths;
  const gate =
    cycles === undefined ? chosenGate(impulse, choice, arrivalS, () => autoGate(paths)) : undefined;
  const gated = gateImpulse(impulse, arrivalS, gate);
  const whole = gate ? gateImpulse(impulse, arrivalS) : gated;
  const warnings: Warning[] = [];
  let resolvedFromHz = gated.resolvedFromHz;
  let curve: Curve;
  let splice: ImpulseAnalysis['splice'];
  if (options.merged && (gate || choice !== 'auto' || cycles !== undefined)) {
    if (!gate) throw new InputError('a merged curve needs a gate; give a gate or leave the merging out');
    if (options.crossoverHz !== undefined && options.crossoverHz < gated.resolvedFromHz)
      throw new InputError(
        `the crossover of the merged curve is ${options.crossoverHz} Hz; expected at least ` +
          `${gated.resolvedFromHz.toPrecision(3)} Hz, which the gate resolves`,
      );
    const merged = mergedCurve(impulse, { ...options, arrivalS, gate });
    ({ curve, resolvedFromHz } = merged);
    splice = { crossoverHz: merged.crossoverHz, levelDb: merged.spliceDb };
  } else if (cycles !== undefined) {
    // The window resolves f/cycles at f: a third of that keeps the phase of neighbouring points together.
    const perOctave = Math.max(48, Math.ceil(3 * cycles * Math.LN2));
    const frequencyHz =
      options.frequencyHz ?? responseGrid({ sampleRateHz, resolutionHz: sampleRateHz, perOctave });
    curve = frequencyDependentWindow(impulse, { arrivalS, cycles, frequencyHz });
  } else {
    curve = impulseToCurve(impulse, {
      arrivalS,
      ...(gate && { gate }),
      ...(options.frequencyHz && { frequencyHz: options.frequencyHz }),
    }).curve;
  }

  const noise = signalToNoise(impulse, arrivalS, gated);
  const wholeNoise = whole === gated ? noise : signalToNoise(impulse, arrivalS, whole);
  const noiseAt = (f: number) => (f >= gated.resolvedFromHz ? noise : wholeNoise)?.at(f);
  const clear = Uint8Array.from(curve.frequencyHz, (f) =>
    f < resolvedFromHz || (noiseAt(f) ?? Number.POSITIVE_INFINITY) >= trustedFromDb ? 1 : 0,
  );
  const { swept = { fromHz: 0, toHz: Number.POSITIVE_INFINITY } } = impulse;
  const isSwept = curve.frequencyHz.map((hz) => Number(isInside(hz, [swept])));
  const trusted = clear.map((ok, i) => (curve.frequencyHz[i]! >= resolvedFromHz && isSwept[i] ? ok : 0));
  const trustedRange = toEndsOf(swept, widestSpan(curve.frequencyHz, trusted), curve.frequencyHz);
  const gateEnds = gate !== undefined && resolvedFromHz >= gated.resolvedFromHz;
  warnings.push(
    ...shortWarnings(gateEnds ? gate.afterS : undefined, resolvedFromHz),
    ...gateWarnings(paths, gate),
    ...noiseWarnings(
      curve.frequencyHz,
      clear.map((ok, i) => (isSwept[i] ? ok : 1)),
    ),
  );
  const reachS = samples.length / sampleRateHz - arrivalS;
  return {
    arrivalS,
    gate: gate ?? { beforeS: arrivalS, afterS: Math.min(reachS, 1 / whole.resolvedFromHz) },
    isGated: gate !== undefined,
    resolvedFromHz,
    reflections,
    curve,
    trusted,
    ...(trustedRange && { trustedRange }),
    ...(noise && { octaves: noise.octaves }),
    ...(splice && { splice }),
    warnings,
  };
}

function chosenGate(
  { samples, sampleRateHz }: ImpulseResponse,
  choice: GateChoice,
  arrivalS: number,
  automatic: () => Gate | undefined,
): Gate | undefined {
  if (choice === 'none') return undefined;
  if (choice === 'auto') return automatic();
  const { afterS, beforeS = defaultBeforeS } = choice;
  const restS = samples.length / sampleRateHz - arrivalS;
  const ms = (s: number) => `${Number((1000 * s).toPrecision(4))} ms`;
  if (!(afterS >= 10 / sampleRateHz))
    throw new InputError(`a gate of ${ms(afterS)}; expected at least ${ms(10 / sampleRateHz)} (10 samples)`);
  if (afterS > restS + 1 / sampleRateHz)
    throw new InputError(
      `a gate of ${ms(afterS)}, but only ${ms(restS)} follow the arrival; expected at most that, or no gate`,
    );
  return { beforeS: Math.min(beforeS, arrivalS), afterS };
}

function widestSpan(frequencyHz: Float64Array, trusted: Uint8Array): FrequencyRange | undefined {
  let best: FrequencyRange | undefined;
  let start = -1;
  trusted.forEach((ok, i) => {
    if (ok && start < 0) start = i;
    if (ok && trusted[i + 1] !== 1) {
      const span = { fromHz: frequencyHz[start]!, toHz: frequencyHz[i]! };
      const wider = !best || span.toHz / span.fromHz > best.toHz / best.fromHz;
      if (wider && i > start) best = span;
      start = -1;
    }
  });
  return best;
}

/** A span whose next point lies beyond the sweep reaches as far as the sweep. */
function toEndsOf(
  swept: FrequencyRange,
  span: FrequencyRange | undefined,
  frequencyHz: Float64Array,
): FrequencyRange | undefined {
  if (!span) return undefined;
  const next = frequencyHz.find((hz) => hz > span.toHz);
  const before = frequencyHz.findLast((hz) => hz < span.fromHz);
  return {
    fromHz: before !== undefined && before < swept.fromHz ? swept.fromHz : span.fromHz,
    toHz: next !== undefined && next > swept.toHz ? swept.toHz : span.toHz,
  };
}

const ms = (s: number) => Number((1000 * s).toPrecision(3));

/** @param gateS where the gate ends, if it is that and not the recording which is too short */
function shortWarnings(gateS: number | undefined, resolvedFromHz: number): Warning[] {
  if (resolvedFromHz <= audible.fromHz) return [];
  const ends =
    gateS === undefined ? `recording ends ${ms(1 / resolvedFromHz)} ms` : `gate ends ${ms(gateS)} ms`;
  const hz = Number(resolvedFromHz.toPrecision(3));
  return [
    {
      code: 'not-resolved-below',
      message:
        `The ${ends} after the direct sound, so nothing below ${hz} Hz is resolved; ` +
        'that part of the curve is neither trusted nor fitted.',
      frequencyHz: resolvedFromHz,
    },
  ];
}

function gateWarnings(
  paths: { reflections: readonly Reflection[]; arrivalS: number },
  gate: Gate | undefined,
): Warning[] {
  if (!gate) return [];
  const warnings: Warning[] = [];
  const first = firstStrongReflection(paths);
  if (first && first.delayS < gate.afterS)
    warnings.push({
      code: 'reflection-inside-gate',
      message:
        `A reflection ${ms(first.delayS)} ms after the direct sound (${first.levelDb.toFixed(1)} dB) lies inside the ` +
        `gate of ${ms(gate.afterS)} ms. A shorter gate shuts it out.`,
    });
  const early = paths.reflections.find((r) => r.levelDb >= -12 && r.delayS < Math.min(1e-3, gate.afterS));
  if (early)
    warnings.push({
      code: 'early-reflection',
      message:
        `Sound ${ms(early.delayS)} ms after the direct sound (${early.levelDb.toFixed(1)} dB, a path ` +
        `${Math.round(100 * early.pathDifferenceM)} cm longer) comes too early to be gated off: ` +
        'a surface close to the speaker or the microphone, or an edge of the cabinet.',
    });
  return warnings;
}

function noiseWarnings(frequencyHz: Float64Array, clear: Uint8Array): Warning[] {
  const spans: string[] = [];
  let start = -1;
  clear.forEach((ok, i) => {
    if (!ok && start < 0) start = i;
    if (start >= 0 && (ok || i === clear.length - 1)) {
      const [fromHz, toHz] = [frequencyHz[start]!, frequencyHz[ok ? i - 1 : i]!];
      if (toHz > audible.fromHz && fromHz < audible.toHz)
        spans.push(`${fromHz.toPrecision(3)} to ${toHz.toPrecision(3)} Hz`);
      start = -1;
    }
  });
  if (spans.length === 0) return [];
  const plain = spans.map((s) => s.replace(/(\d\.?\d*)e\+(\d)/g, (_, m, e) => String(Number(`${m}e${e}`))));
  return [
    {
      code: 'low-signal-to-noise',
      message:
        `Less than ${trustedFromDb} dB above the noise: ${plain.join(', ')}. The curve is not trusted and not fitted ` +
        'there. A quieter room, a longer sweep or more level (within what the speaker stands) would help.',
    },
  ];
}

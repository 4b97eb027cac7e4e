import { speedOfSound } from '../acoustics/speedOfSound.js';
import type { Curve, FrequencyRange } from '../curve/curve.js';
import { octaveWeights } from '../curve/octaveWeights.js';
import { analyseImpulse, type GateChoice, type ImpulseAnalysis } from '../impulse/analyseImpulse.js';
import { firstStrongReflection } from '../impulse/arrivals/autoGate.js';
import { equivalentDistances } from '../impulse/arrivals/equivalentDistances.js';
import { excessPhaseOfImpulse } from '../impulse/phase/excessPhaseOfImpulse.js';
import { directAndRoom } from '../impulse/response/directAndRoom.js';
import { gateImpulse } from '../impulse/response/gate.js';
import { smoothToTheEnd } from '../impulse/response/smoothToTheEnd.js';
import type { ImpulseResponse } from '../impulse/samples/impulseResponse.js';
import { applyCalibration } from '../measurement/applyCalibration.js';
import type { ResponseReport } from '../schema/response.js';
import type { Warning } from '../warning.js';
import { roundHz } from './rounding.js';

export interface ResponseRequest {
  readonly title: string;
  readonly impulse: ImpulseResponse;
  /** `auto` unless given. */
  readonly gate?: GateChoice;
  /** Instead of a gate: a window of so many periods at each frequency. */
  readonly cycles?: number;
  /** Gated above, ungated below. */
  readonly mergeAtHz?: number;
  readonly smoothingOctaves?: number;
  /** Deviation of the microphone. */
  readonly calibration?: Curve;
  readonly temperatureC?: number;
  /** Straight from the speaker to the microphone. */
  readonly microphoneDistanceM?: number;
  /** Of the reading of the file. */
  readonly warnings?: readonly Warning[];
}

const DEFAULT_TEMPERATURE_C = 20;
/** A longer stretch holds too much late sound for its phase to say anything. */
const LONGEST_PHASE_SAMPLES = 1 << 16;
/** A level for a spectrum that is empty; far below any that is not. */
const LOWEST_DB = -400;
/** More than any format holds; a computed response may have no noise at all. */
const HIGHEST_SIGNAL_TO_NOISE_DB = 200;
const DEG = 180 / Math.PI;

/**
 * An impulse response as a frequency response, and all that time tells beside it.
 *
 * @throws InputError where it is silent, or a gate, a crossover or a calibration does not fit it
 */
export function responseReport(request: ResponseRequest): ResponseReport {
  const { impulse, gate: choice = 'auto', cycles, mergeAtHz, smoothingOctaves = 0, calibration } = request;
  const analysis = analyseImpulse(impulse, {
    gate: choice,
    ...(cycles !== undefined && { cycles }),
    ...(mergeAtHz !== undefined && { merged: true, crossoverHz: mergeAtHz }),
    speedOfSoundMPerS: speedOfSound(request.temperatureC ?? DEFAULT_TEMPERATURE_C),
  });
  const { arrivalS, gate, resolvedFromHz, trustedRange, splice, octaves } = analysis;
  const gating = gatingOf(choice, cycles, analysis);
  const calibrated = calibration && applyCalibration(analysis.curve, calibration);
  const curve = smoothToTheEnd(calibrated?.curve ?? analysis.curve, smoothingOctaves);
  const { frequencyHz } = curve;
  const gated = gating === 'auto' || gating === 'given';
  const { phase } = phaseOf(analysis, impulse, gated);
  const warnings = [
    ...(request.warnings ?? []),
    ...analysis.warnings,
    ...(calibrated?.warnings ?? []),
    ...(mergeAtHz !== undefined && !splice ? [NOTHING_TO_MERGE] : []),
    ...(gated && phase && isTurnedRound(frequencyHz, phase.excessPhaseDeg, trustedRange)
      ? [POLARITY_REVERSED]
      : []),
  ];
  return {
    schemaVersion: 1,
    title: request.title,
    sampleRateHz: impulse.sampleRateHz,
    arrivalS: decimals(arrivalS, 10),
    gating,
    gate: { beforeS: decimals(gate.beforeS, 9), afterS: decimals(gate.afterS, 9) },
    ...(cycles !== undefined && { cycles }),
    resolvedFromHz: roundHz(resolvedFromHz),
    ...(trustedRange && {
      trusted: { fromHz: roundHz(trustedRange.fromHz), toHz: roundHz(trustedRange.toHz) },
    }),
    ...(impulse.swept && {
      swept: { fromHz: roundHz(impulse.swept.fromHz), toHz: roundHz(impulse.swept.toHz) },
    }),
    ...(splice && { splice: { crossoverHz: splice.crossoverHz, levelDb: decimals(splice.levelDb, 3) } }),
    smoothingOctaves,
    calibrated: calibration !== undefined,
    reflections: reflectionsOf(analysis, request.microphoneDistanceM),
    ...(octaves && {
      octaves: octaves
        .filter(({ signalToNoiseDb }) => !Number.isNaN(signalToNoiseDb))
        .map(({ centreHz, signalToNoiseDb }) => ({
          centreHz,
          signalToNoiseDb: decimals(Math.min(signalToNoiseDb, HIGHEST_SIGNAL_TO_NOISE_DB), 1),
        })),
    }),
    clipped: warnings.some(({ code }) => code === 'impulse-clipped'),
    curve: written(curve),
    ...(gated && {
      room: written(
        smoothToTheEnd(directAndRoom(impulse, arrivalS, gate, frequencyHz).room, smoothingOctaves),
      ),
    }),
    ...(phase && { phase }),
    warnings,
  };
}

function gatingOf(
  choice: GateChoice,
  cycles: number | undefined,
  analysis: ImpulseAnalysis,
): ResponseReport['gating'] {
  if (cycles !== undefined) return 'cycles';
  if (typeof choice !== 'string') return 'given';
  return choice === 'auto' && firstStrongReflection(analysis) ? 'auto' : 'none';
}

const NOTHING_TO_MERGE: Warning = {
  code: 'nothing-to-merge',
  message:
    'No reflection strong enough to be gated off was found, so the curve is that of all of the recording and there ' +
    'was nothing to merge. Give a gate to set one yourself.',
};

const POLARITY_REVERSED: Warning = {
  code: 'polarity-reversed',
  message:
    'The polarity is reversed: where the signal rises the pressure falls. The speaker, its cable, the microphone or an ' +
    'input turns it round. Levels and filters are the same either way; the two speakers of a pair must be alike.',
};

/** A crossover may turn a part of the band round; polarity is what turns nearly all of it. */
const NEARLY_ALL = 0.8;
const TURNED_DEG = 120;

/** @param excessPhaseDeg −180 to 180, of what a minimum-phase response with the pure delay does not explain */
function isTurnedRound(
  frequencyHz: Float64Array,
  excessPhaseDeg: readonly number[],
  trusted: FrequencyRange | undefined,
): boolean {
  if (!trusted) return false;
  const inside = Array.from(frequencyHz.keys()).filter(
    (i) => frequencyHz[i]! >= trusted.fromHz && frequencyHz[i]! <= trusted.toHz,
  );
  if (inside.length < 2) return false;
  const weights = octaveWeights(Float64Array.from(inside, (i) => frequencyHz[i]!));
  return (
    inside.reduce((sum, i, j) => sum + (Math.abs(excessPhaseDeg[i]!) > TURNED_DEG ? weights[j]! : 0), 0) >
    NEARLY_ALL
  );
}

function reflectionsOf(
  { reflections }: ImpulseAnalysis,
  microphoneDistanceM: number | undefined,
): ResponseReport['reflections'] {
  return reflections.map(({ delayS, levelDb, pathDifferenceM, contrastDb }) => {
    const { behindM, alongsideM } = equivalentDistances(pathDifferenceM, microphoneDistanceM);
    return {
      delayS: decimals(delayS, 9),
      levelDb: decimals(levelDb, 2),
      pathDifferenceM: decimals(pathDifferenceM, 5),
      behindM: decimals(behindM, 4),
      ...(alongsideM !== undefined && { alongsideM: decimals(alongsideM, 4) }),
      contrastDb: decimals(contrastDb, 1),
    };
  });
}

function phaseOf(
  { arrivalS, gate, curve }: ImpulseAnalysis,
  impulse: ImpulseResponse,
  gated: boolean,
): Pick<ResponseReport, 'phase'> {
  const kept = gateImpulse(impulse, arrivalS, gated ? gate : undefined);
  if (kept.samples.length > LONGEST_PHASE_SAMPLES) return {};
  const { frequencyHz } = curve;
  const excess = excessPhaseOfImpulse(kept, { frequencyHz });
  return {
    phase: {
      minimumPhaseDeg: Array.from(excess.minimumPhaseRad, (rad) => decimals(rad * DEG, 3)),
      minimumPhaseErrorDeg: decimals(excess.minimumPhaseErrorRad * DEG, 4),
      delayS: decimals(excess.delayS, 9),
      excessPhaseDeg: Array.from(excess.excessPhaseRad, (rad) => decimals(rad * DEG, 3)),
      excessGroupDelayS: Array.from(excess.excessGroupDelayS, (s) => decimals(s, 8)),
    },
  };
}

/** Fine enough for 0.001 dB and 0.01 degrees after reading back. */
function written({ frequencyHz, levelDb, phaseRad }: Curve): ResponseReport['curve'] {
  return {
    frequencyHz: Array.from(frequencyHz, (hz) => Number(hz.toPrecision(8))),
    levelDb: Array.from(levelDb, (db) => decimals(Math.max(LOWEST_DB, db), 4)),
    phaseDeg: Array.from(phaseRad!, (rad) => decimals(rad * DEG, 3)),
  };
}

/** Never −0. */
function decimals(value: number, places: number): number {
  return Number(value.toFixed(places)) + 0;
}

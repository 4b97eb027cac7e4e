import { cancellationInterval } from '../acoustics/cancellationInterval.js';
import { speedOfSound } from '../acoustics/speedOfSound.js';
import type { FrequencyRange } from '../curve/curve.js';
import type { Warning } from '../warning.js';
import { detectFeatures, type Feature } from './detectFeatures.js';
import type { DiagnosisInput } from './diagnosisInput.js';
import type { Finding } from './finding.js';
import { localSmooth } from './localSmooth.js';
import { mergeRanges } from './mergeRanges.js';
import { placementAdvice } from './placementAdvice.js';
import { protectedSpan } from './protectedSpan.js';
import { surroundingTrend } from './surroundingTrend.js';

export interface Diagnosis {
  /** Ascending in frequency. */
  readonly findings: readonly Finding[];
  readonly warnings: readonly Warning[];
  /** Spans of the `move` dips in which the EQ is held back, merged where they overlap, ascending. */
  readonly zones: readonly FrequencyRange[];
}

const SMOOTHING_OCTAVES = 1 / 30;

/** What is wrong with a curve, why, and what to do about it. */
export function diagnose(input: DiagnosisInput): Diagnosis {
  const { frequencyHz, levelDb } = input.curve;
  const octave = frequencyHz.map(Math.log2);
  const smoothedDb = localSmooth(octave, levelDb, SMOOTHING_OCTAVES);
  const trendDb = surroundingTrend(octave, levelDb);
  const heightDb = smoothedDb.map((l, i) => l - trendDb[i]!);
  const features = detectFeatures(frequencyHz, heightDb, { minHeightDb: 1, minProminenceDb: 0.8 }).filter(
    (f) => f.frequencyHz >= input.range.fromHz && f.frequencyHz <= input.range.toHz,
  );
  const findings = features.map((feature) =>
    judge(feature, input, protectedSpan(feature, frequencyHz, heightDb)),
  );
  return {
    findings,
    warnings: [],
    zones: mergeRanges(findings.flatMap((f) => (f.zone ? [f.zone] : []))),
  };
}

function judge(feature: Feature, input: DiagnosisInput, zone: FrequencyRange): Finding {
  const { kind, frequencyHz, levelDb, widthOctaves } = feature;
  const base = { kind, frequencyHz, levelDb, widthOctaves };
  const shape = `${Math.abs(levelDb).toFixed(1)} dB ${kind === 'dip' ? 'below' : 'above'} the trend around it, ${widthOctaves.toFixed(2)} octave wide at half its height.`;
  if (Math.abs(levelDb) < 1.5 || widthOctaves < 1 / 16) {
    return { ...base, verdict: 'leave', cause: { type: 'unknown' }, confidence: 0.6, evidence: [shape] };
  }
  const predicted = kind === 'dip' && levelDb < -2 ? predictedCancellation(feature, input) : undefined;
  if (predicted) {
    return {
      ...base,
      verdict: 'move',
      cause: { type: 'reflection', ...predicted },
      confidence: 0.75,
      evidence: [
        `${predicted.surface} is predicted to cancel near ${predicted.predictedHz.toFixed(0)} Hz.`,
        shape,
      ],
      ...withAdvice(predicted.surface, input),
      zone,
    };
  }
  if (kind === 'dip' && levelDb < -7 && widthOctaves < 0.5) {
    return {
      ...base,
      verdict: 'move',
      cause: { type: 'reflection' },
      confidence: 0.7,
      evidence: [`Deep and narrow, as a cancellation is: ${shape}`],
      zone,
    };
  }
  return { ...base, verdict: 'equalize', cause: { type: 'unknown' }, confidence: 0.6, evidence: [shape] };
}

function withAdvice(surface: string, { setup }: DiagnosisInput): { advice?: string } {
  const advice = setup && placementAdvice(setup, surface);
  return advice === undefined ? {} : { advice };
}

/** The surface whose cancellation, tolerances and lag allowed for, lies nearest to the dip. */
function predictedCancellation(
  { frequencyHz }: Feature,
  { setup }: DiagnosisInput,
): { surface: string; predictedHz: number } | undefined {
  if (!setup) return undefined;
  const c = speedOfSound(setup.temperatureC);
  const found = setup.surfaces.flatMap((surface) => {
    const plane = {
      r: setup.microphoneDistance,
      hs: surface.speakerDistance,
      hm: surface.microphoneDistance,
    };
    return [1, 2, 3].flatMap((n) => {
      const { from, to } = cancellationInterval(plane, n, c);
      const predictedHz = Math.sqrt(from * to);
      return frequencyHz > from * 0.8 && frequencyHz < to * 1.05
        ? [{ surface: surface.name, predictedHz }]
        : [];
    });
  });
  const miss = (hz: number) => Math.abs(Math.log(hz / frequencyHz));
  return found.sort((a, b) => miss(a.predictedHz) - miss(b.predictedHz))[0];
}

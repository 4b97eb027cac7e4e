import { cancellationInterval } from '../acoustics/cancellationInterval.js';
import { reflectedPathM } from '../acoustics/imageSource.js';
import { planeGeometry } from '../acoustics/planeGeometry.js';
import { speedOfSound } from '../acoustics/speedOfSound.js';
import type { FrequencyRange } from '../curve/curve.js';
import type { Warning } from '../warning.js';
import { detectFeatures, type Feature } from './detectFeatures.js';
import type { DiagnosisInput } from './diagnosisInput.js';
import type { Finding } from './finding.js';
import { localSmooth } from './localSmooth.js';
import { mergeRanges } from './mergeRanges.js';
import { placementAdvice } from './placementAdvice.js';
import { type PlacementClues, placementClues } from './placementClues.js';
import { protectedSpan } from './protectedSpan.js';
import { fitRollOff } from './rollOff.js';
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
  const { frequencyHz } = input.curve;
  const heightDb = heightOverTrend(input);
  const inRange = (f: Feature) => f.frequencyHz >= input.range.fromHz && f.frequencyHz <= input.range.toHz;
  const features = detectFeatures(frequencyHz, heightDb, LEAST).filter(inRange);
  const movedDips = (input.moved ?? []).map((curve) =>
    detectFeatures(curve.frequencyHz, heightOverTrend({ ...input, curve }), LEAST).filter(
      ({ kind }) => kind === 'dip',
    ),
  );
  const findings = features.map((feature) =>
    judge(feature, input, movedDips, protectedSpan(feature, frequencyHz, heightDb)),
  );
  return {
    findings,
    warnings: [],
    zones: mergeRanges(findings.flatMap((f) => (f.zone ? [f.zone] : []))),
  };
}

const LEAST = { minHeightDb: 1, minProminenceDb: 0.8 };

/** Smoothed level over the surrounding trend, the box's fall taken out. */
function heightOverTrend(input: DiagnosisInput): Float64Array {
  const octave = input.curve.frequencyHz.map(Math.log2);
  const levelDb = withoutRollOff(input);
  const trendDb = surroundingTrend(octave, levelDb);
  return localSmooth(octave, levelDb, SMOOTHING_OCTAVES).map((l, i) => l - trendDb[i]!);
}

const NO_CLUES: PlacementClues = { placement: [], speaker: [] };
/** A dip that other measurements lay to the placement is held for it from this depth on. */
const LEAST_CLUED_DB = -2.5;

/** Deeper than this a measurement shows its noise rather than the box. */
const ROLL_OFF_FLOOR_DB = -24;

/** The curve with the box's fall taken out, so that its shoulder is not taken for a peak. */
function withoutRollOff({ curve, range }: DiagnosisInput): Float64Array {
  const box = fitRollOff(curve, range)?.levelDb;
  return box ? curve.levelDb.map((l, i) => l - Math.max(box[i]!, ROLL_OFF_FLOOR_DB)) : curve.levelDb;
}

function judge(
  feature: Feature,
  input: DiagnosisInput,
  movedDips: readonly (readonly Feature[])[],
  zone: FrequencyRange,
): Finding {
  const { kind, frequencyHz, levelDb, widthOctaves } = feature;
  const base = { kind, frequencyHz, levelDb, widthOctaves };
  const shape = `${Math.abs(levelDb).toFixed(1)} dB ${kind === 'dip' ? 'below' : 'above'} the trend around it, ${widthOctaves.toFixed(2)} octave wide at half its height.`;
  if (Math.abs(levelDb) < 1.5 || widthOctaves < 1 / 16) {
    return { ...base, verdict: 'leave', cause: { type: 'unknown' }, confidence: 0.6, evidence: [shape] };
  }
  const clues = kind === 'dip' ? placementClues(feature, input, movedDips) : NO_CLUES;
  const predicted = kind === 'dip' && levelDb < -2 ? predictedCancellation(feature, input) : undefined;
  if (predicted) {
    return {
      ...base,
      verdict: 'move',
      cause: { type: 'reflection', ...predicted },
      confidence: clues.placement.length > 0 ? 0.9 : 0.75,
      evidence: [
        ...clues.placement,
        `The reflection from "${predicted.surface}" is predicted to cancel near ${predicted.predictedHz.toFixed(0)} Hz.`,
        shape,
      ],
      ...withAdvice(predicted.surface, input),
      zone,
    };
  }
  if (levelDb < LEAST_CLUED_DB && clues.placement.length > 0) {
    return {
      ...base,
      verdict: 'move',
      cause: { type: 'reflection' },
      confidence: 0.8,
      evidence: [...clues.placement, shape],
      zone,
    };
  }
  if (clues.speaker.length > 0) {
    const evidence = [...clues.speaker, shape];
    return { ...base, verdict: 'equalize', cause: { type: 'speaker' }, confidence: 0.65, evidence };
  }
  if (kind === 'dip' && isDeepAndNarrow(feature)) {
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

/**
 * Speakers' own dips are seldom sharp, those of 7 dB are broad, and those of 10 dB rare: the narrower a null, the less
 * deep it must be, and the deeper, the wider it may be.
 */
function isDeepAndNarrow({ levelDb, widthOctaves }: Feature): boolean {
  const leastDepthDb =
    widthOctaves < 0.5 ? 5 + 5.7 * Math.max(0, widthOctaves - 0.15) : 7 + 10 * (widthOctaves - 0.5);
  return widthOctaves < 1 && -levelDb > leastDepthDb;
}

function withAdvice(surface: string, { setup }: DiagnosisInput): { advice?: string } {
  const advice = setup && placementAdvice(setup, surface);
  return advice === undefined ? {} : { advice };
}

/** A miss by this share counts as much as one order higher or 6 dB weaker by distance. */
const MISS = 0.1;

/**
 * The surface whose cancellation, tolerances and lag allowed for, best explains a dip there: near in frequency, low in
 * order, and not much weakened by its longer path.
 */
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
    const { r } = planeGeometry(setup, surface);
    const weakenedBy = Math.log2(reflectedPathM(planeGeometry(setup, surface)) / r);
    return [1, 2, 3].flatMap((order) => {
      const { from, to } = cancellationInterval(plane, order, c);
      const predictedHz = Math.sqrt(from * to);
      if (frequencyHz <= from * 0.8 || frequencyHz >= to * 1.05) return [];
      const price = Math.abs(Math.log(predictedHz / frequencyHz)) / MISS + (order - 1) + weakenedBy;
      return [{ surface: surface.name, predictedHz, price }];
    });
  });
  const best = found.sort((a, b) => a.price - b.price)[0];
  return best && { surface: best.surface, predictedHz: best.predictedHz };
}

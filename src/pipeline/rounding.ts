import type { FrequencyRange } from '../curve/curve.js';
import { roundDb } from '../curve/roundDb.js';
import type { Finding } from '../diagnosis/verdict/finding.js';
import type { Design } from '../schema/design.js';
import type { LimitedSpan } from './limitedSpan.js';

export { roundDb };

/** To five significant figures. */
export function roundHz(hz: number): number {
  return Number(hz.toPrecision(5));
}

export function roundRange({ fromHz, toHz }: FrequencyRange): { fromHz: number; toHz: number } {
  return { fromHz: roundHz(fromHz), toHz: roundHz(toHz) };
}

export function roundZone({ verdict, maxRiseDb, ...range }: LimitedSpan): Design['zones'][number] {
  return { ...roundRange(range), verdict, maxRiseDb: roundDb(maxRiseDb) };
}

export function roundFinding(finding: Finding): Design['findings'][number] {
  const { cause } = finding;
  return {
    kind: finding.kind,
    frequencyHz: roundHz(finding.frequencyHz),
    levelDb: Math.round(finding.levelDb * 100) / 100,
    widthOctaves: Math.round(finding.widthOctaves * 1000) / 1000,
    verdict: finding.verdict,
    cause: {
      type: cause.type,
      ...(cause.surface !== undefined && { surface: cause.surface }),
      ...(cause.predictedHz !== undefined && { predictedHz: roundHz(cause.predictedHz) }),
    },
    confidence: Math.round(finding.confidence * 100) / 100,
    evidence: [...finding.evidence],
    ...(finding.advice !== undefined && { advice: finding.advice }),
    ...(finding.zone && { zone: roundRange(finding.zone) }),
  };
}

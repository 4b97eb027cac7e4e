import type { FrequencyRange } from '../curve/curve.js';
import { deviceLimits } from '../device/deviceLimits.js';
import type { FitLimits } from '../fit/problem/fitProblem.js';
import type { Design } from '../schema/design.js';
import type { DesignRequest } from './designRequest.js';

/**
 * Bands may stand up to half an octave outside the range, where their flanks still shape its ends; never below the
 * speaker's corner, where a boost would cost excursion.
 */
const OUTSIDE = Math.SQRT2;
const LOWEST_HZ = 10;
/** Of half the sample rate; nearer to it a band is bent beyond use. */
export const SHARE_OF_NYQUIST = 0.95;

export interface ReachLimits {
  /** Below it nothing is boosted; cuts are allowed from the range on where it lies within. */
  readonly boostFromHz?: number;
  readonly unknownBelow: boolean;
  readonly unknownAbove: boolean;
}

/** @throws InputError where the device asked for has nothing within them */
export function fitLimits(
  request: DesignRequest,
  range: FrequencyRange,
  { boostFromHz, unknownBelow, unknownAbove }: ReachLimits,
): FitLimits {
  const limits: FitLimits = {
    maxBands: request.bands,
    // A shelf would change all that lies beyond the range, of which nothing is known.
    types: [
      'peaking',
      ...(unknownBelow ? [] : (['lowShelf'] as const)),
      ...(unknownAbove ? [] : (['highShelf'] as const)),
    ],
    maxBoostDb: request.maxBoostDb,
    maxCutDb: request.maxCutDb,
    minQ: request.minQ,
    maxQ: request.maxQ,
    maxShelfQ: Math.min(request.maxQ, request.maxShelfQ ?? request.maxQ),
    minFrequencyHz: Math.max(
      LOWEST_HZ,
      unknownBelow ? range.fromHz : range.fromHz / OUTSIDE,
      Math.min(boostFromHz ?? 0, range.fromHz),
    ),
    maxFrequencyHz: Math.min(
      unknownAbove ? range.toHz : range.toHz * OUTSIDE,
      (SHARE_OF_NYQUIST * request.sampleRateHz) / 2,
    ),
    maxLevelLossDb: request.maxLevelLossDb,
  };
  return request.device ? deviceLimits(limits, request.device, request.sampleRateHz) : limits;
}

/** What of the user's limits a device leaves, to be told. */
export function limitsWithDevice(
  { maxBands, fixedBands = [], maxBoostDb, maxCutDb, minQ, maxQ }: FitLimits,
  bands: number,
): NonNullable<Design['limits']['withDevice']> {
  return { bands: Math.min(bands, maxBands + fixedBands.length), maxBoostDb, maxCutDb, minQ, maxQ };
}

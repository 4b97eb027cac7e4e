import type { Filter } from '../../src/filter/filter.js';
import { formatFrequency } from '../../src/units/formatFrequency.js';
import { listeningLevels, rateDifferenceDb } from './listeningLevels.js';

const decibels = (db: number): string => `${Math.abs(db).toFixed(1)} dB`;

/** How the two sides are made comparable, and what is heard, in sentences. */
export function listeningWords(filters: readonly Filter[], sampleRateHz: number): string[] {
  const heard =
    'Through the speaker that was measured you hear it before and after, as long as its own correction is off. Through headphones or another speaker you hear the filters alone.';
  if (filters.length === 0) return ['There are no filters, so both sides sound the same.', heard];
  const { inputGainDb, loudnessDb } = listeningLevels(filters, sampleRateHz);
  const headroom =
    inputGainDb < 0
      ? `Both sides are turned down by ${decibels(inputGainDb)}, so that the filters raise nothing above full scale.`
      : 'The filters raise nothing, so neither side needs to be turned down.';
  const matched =
    Math.abs(loudnessDb) < 0.05
      ? 'The filters leave the loudness of pink noise as it is.'
      : `The side without filters is turned ${loudnessDb < 0 ? 'down by another' : 'up again by'} ${decibels(loudnessDb)}: that is what the filters do to the loudness of pink noise, every octave counting the same. On music it may differ a little.`;
  return [headroom, matched, heard];
}

/** At which rate the filters are worked out, and what that changes. */
export function rateWords(
  filters: readonly Filter[],
  designRateHz: number,
  playedRateHz: number | undefined,
): string {
  const designed = formatRate(designRateHz);
  if (playedRateHz === undefined) {
    return `The filters are worked out anew for the rate that your browser plays at; they were designed for ${designed}.`;
  }
  if (playedRateHz === designRateHz) {
    return `Your browser plays at ${designed}, the rate that the filters were designed for.`;
  }
  const difference = rateDifferenceDb(filters, designRateHz, playedRateHz);
  return `Your browser plays at ${formatRate(playedRateHz)}, so the filters are worked out for that rate; they were designed for ${designed}. Below 16 kHz the two differ by ${
    difference < 0.05 ? 'less than 0.1 dB' : `at most ${decibels(difference)}`
  }.`;
}

/** 44.1 kHz, which three figures would do, and 22.05 kHz, which they would not. */
function formatRate(hz: number): string {
  return hz < 1000 ? formatFrequency(hz) : `${hz / 1000} kHz`;
}

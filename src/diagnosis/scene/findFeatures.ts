import { detectFeatures, type Feature } from '../features/detectFeatures.js';
import { isWorthMending } from './isWorthMending.js';
import type { Scene } from './scene.js';

const LEAST = { minHeightDb: 1, minProminenceDb: 0.8 };

/** Peaks and dips within the range, ascending in frequency: those against the trend, and narrow dips between their own flanks. */
export function findFeatures(scene: Scene): Feature[] {
  const { frequencyHz, heightDb, betweenFlanksDb } = scene;
  const { fromHz, toHz } = scene.input.range;
  const isInRange = (feature: Feature) => feature.frequencyHz >= fromHz && feature.frequencyHz <= toHz;
  const onTrend = detectFeatures(frequencyHz, heightDb, LEAST).filter(isInRange);
  const narrow = detectFeatures(frequencyHz, betweenFlanksDb, LEAST)
    .filter(isInRange)
    .map((dip): Feature => ({ ...dip, betweenFlanks: true }))
    .filter((dip) => !onTrend.some((other) => isOf(dip, other) && saysMore(other, dip)));
  return [...onTrend.filter((other) => !narrow.some((dip) => isOf(dip, other))), ...narrow].sort(
    (a, b) => a.frequencyHz - b.frequencyHz,
  );
}

/** Whether a narrow dip lies in one that shows against the trend. */
function isOf(narrow: Feature, { kind, fromHz, toHz }: Feature): boolean {
  return kind === 'dip' && narrow.frequencyHz >= fromHz && narrow.frequencyHz <= toHz;
}

/** Two views of a dip: the trend's counts unless only between its flanks it comes to something. */
function saysMore(onTrend: Feature, narrow: Feature): boolean {
  return isWorthMending(onTrend) || !isWorthMending(narrow);
}

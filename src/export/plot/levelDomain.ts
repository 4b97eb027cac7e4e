import type { Design } from '../../schema/design.js';

const STEP_DB = 5;
const LEAST_SPAN_DB = 25;
/** A needle of the unsmoothed curve stretches the axis by no more than this beyond the smoothed one. */
const NEEDLE_DB = 4;
/** Room for the marks of the findings. */
const MARK_ROOM_DB = 2.5;

/**
 * The span of level that the drawings show, in multiples of 5 dB: everything inside the fitted range, so that a
 * roll-off outside it does not flatten the part that matters.
 */
export function levelDomain(design: Design): [number, number] {
  const { frequencyHz, measuredDb, smoothedDb, targetDb, eqDb } = design.curves;
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  frequencyHz.forEach((f, i) => {
    if (f < design.range.fromHz || f > design.range.toHz) return;
    const smoothed = smoothedDb[i]!;
    const measured = Math.min(smoothed + NEEDLE_DB, Math.max(smoothed - NEEDLE_DB, measuredDb[i]!));
    const values = [smoothed, measured, targetDb[i]!, smoothed + eqDb[i]!];
    low = Math.min(low, ...values);
    high = Math.max(high, ...values);
  });
  if (!(low <= high)) [low, high] = [design.levelDb, design.levelDb];
  let bottom = Math.floor((low - MARK_ROOM_DB) / STEP_DB) * STEP_DB;
  const top = Math.ceil((high + MARK_ROOM_DB) / STEP_DB) * STEP_DB;
  while (top - bottom < LEAST_SPAN_DB) bottom -= STEP_DB;
  return [bottom, top];
}

import type { Verdict } from './finding.js';

/**
 * What a verdict costs when the cause is the placement and when it is the speaker, in units of a dip that could have
 * been mended and was advised away. A boost into a null costs headroom and mends nothing; a wrong `move` protects a
 * span that could have been mended and sends the user about the room; hands off costs a little either way.
 */
const COST: Readonly<Record<Verdict, { placement: number; speaker: number }>> = {
  equalize: { placement: 1.5, speaker: 0 },
  leave: { placement: 0.3, speaker: 0.8 },
  move: { placement: 0, speaker: 2.4 },
};

/**
 * From here on dips are narrow, little is heard of them, and no move of a few centimetres rids a curve of them: leaving
 * one of the placement's costs this share of what it costs below.
 */
const TREBLE_HZ = 1500;
const TREBLE_DISCOUNT = 0.2;

/** The verdict on a dip that costs least, given the probability that the placement makes it. */
export function cheapestVerdict(placementProbability: number, frequencyHz: number): Verdict {
  const p = placementProbability;
  const discount = (v: Verdict) => (v === 'leave' && frequencyHz > TREBLE_HZ ? TREBLE_DISCOUNT : 1);
  const cost = (v: Verdict) => p * COST[v].placement * discount(v) + (1 - p) * COST[v].speaker;
  return (Object.keys(COST) as Verdict[]).reduce((a, b) => (cost(b) < cost(a) ? b : a));
}

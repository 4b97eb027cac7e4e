import { type Box, boxLevelDb, boxSlopeDbPerOctave } from '../../acoustics/boxRolloff.js';
import type { Curve } from '../../curve/curve.js';
import { workingRange } from '../../curve/workingRange.js';
import { exp, pow2 } from '../../elementary/exponential.js';
import { log } from '../../elementary/logarithm.js';
import { pow } from '../../elementary/power.js';
import { clip } from '../features/clip.js';
import { type BoxCandidate, boxCandidates, CORNERS_PER_OCTAVE } from './boxCandidates.js';
import { lowEnd } from './lowEnd.js';
import { unevenPrior } from './unevenPrior.js';

/** The box that is behind the fall of a low end. */
export interface RollOff {
  /** The likeliest. */
  readonly box: Box;
  /** 3 dB below the pass band, on the safe side, and more so where it is not well determined. */
  readonly cornerHz: number;
  /** In eight of ten cases it lies between these. */
  readonly fromHz: number;
  readonly toHz: number;
  readonly slopeDbPerOctave: number;
  /** How much likelier a box is than none, ln of the ratio. */
  readonly evidence: number;
  /** What the walls of a set-up add was taken off before. */
  readonly withoutWalls?: boolean;
}

/**
 * The corner lies above the point 10 dB down and by this factor at most: 2.28 for a closed box of Q 0.5, 1.7 for Q 0.7 and 1.3
 * for a vented one (Butterworth).
 */
const HIGHEST_CORNER = 2.3;
/** Sizes of dips and peaks, from a very even speaker in the open to a room: the curve itself says which. */
const NARROW_DB = [0.5, 1, 2, 4];
/** Too low a corner costs drivers, too high a one some boost. */
const SAFE_SHARE = 0.6;
const ENDS = [0.1, 0.9] as const;
/** Wider apart than this the ends say that the corner is not well determined: the error is twice the usual there … */
const WELL_DETERMINED = 1.75;
/** … and the wider, from the first to the second, the nearer the corner is taken to the upper end, half of the way at most. */
const DOUBT_FROM = 1.6;
const DOUBT_TO = 1.9;

/**
 * Closed boxes (12 dB per octave) and vented ones (24 dB per octave), each held against the low end together with all the dips,
 * peaks and slopes of its own that a speaker may have: those explain what lies above the corner, so it does not move by them.
 * The corner is read from the sum of all boxes, weighed by how likely each makes the curve.
 *
 * @param found where the curve's ends lie
 * @returns nothing where the data do not show the speaker's fall
 */
export function fitRollOff(curve: Curve, found = workingRange(curve)): RollOff | undefined {
  const tenDownHz = found.cornerHz;
  const part = tenDownHz === undefined ? undefined : lowEnd(curve, tenDownHz);
  if (tenDownHz === undefined || !part) return undefined;
  const hz = part.octave.map(pow2);
  const candidates = boxCandidates(tenDownHz, tenDownHz * HIGHEST_CORNER);
  const rests = candidates.map(({ box }) => part.levelDb.map((db, i) => db - boxLevelDb(hz[i]!, box)));
  const priors = NARROW_DB.map((narrowDb) => unevenPrior(part.octave, narrowDb));
  const without = Math.max(...priors.map((likelihood) => likelihood(part.levelDb)));
  const likelihoods = candidates.map(({ prior }, k) =>
    priors.map((likelihood) => likelihood(rests[k]!) + log(prior)),
  );
  const best = likelihoods.map((each) => Math.max(...each));
  const greatest = Math.max(...best);
  const shares = likelihoods.map((each) => each.reduce((sum, l) => sum + exp(l - greatest), 0));
  const { box } = candidates[best.indexOf(greatest)]!;
  const corner = (share: number) => quantileHz(candidates, shares, share);
  const [fromHz, safeHz, toHz] = [corner(ENDS[0]), corner(SAFE_SHARE), corner(ENDS[1])];
  const doubt = clip((toHz / fromHz - DOUBT_FROM) / (DOUBT_TO - DOUBT_FROM), 0, 1);
  return {
    box,
    cornerHz: safeHz * pow(toHz / safeHz, doubt / 2),
    fromHz,
    toHz,
    slopeDbPerOctave: boxSlopeDbPerOctave(box),
    evidence: greatest - without,
  };
}

/** Deeper than this a measurement shows its noise rather than the box. */
const FALL_FLOOR_DB = -24;

/** By how much the box lets the level fall, 0 or below, where a box is likely; to be taken off a curve. */
export function fallDb(rollOff: RollOff | undefined, frequencyHz: Float64Array): Float64Array | undefined {
  if (!rollOff || !isBox(rollOff)) return undefined;
  return frequencyHz.map((hz) => Math.max(boxLevelDb(hz, rollOff.box), FALL_FLOOR_DB));
}

/** Whether a box makes the fall likelier than an uneven speaker alone would. */
export function isBox({ evidence }: RollOff): boolean {
  return evidence > 0;
}

export function isWellDetermined({ fromHz, toHz }: RollOff): boolean {
  return toHz <= WELL_DETERMINED * fromHz;
}

/** The corner below which so great a share of all boxes have theirs; each corner stands for the step around it. */
function quantileHz(candidates: readonly BoxCandidate[], shares: readonly number[], share: number): number {
  const wanted = share * shares.reduce((sum, s) => sum + s, 0);
  let below = 0;
  for (let k = 0; k < candidates.length; ) {
    const { cornerHz } = candidates[k]!;
    let here = 0;
    for (; k < candidates.length && candidates[k]!.cornerHz === cornerHz; k++) here += shares[k]!;
    if (below + here >= wanted) return cornerHz * pow2(((wanted - below) / here - 0.5) / CORNERS_PER_OCTAVE);
    below += here;
  }
  return candidates.at(-1)!.cornerHz;
}

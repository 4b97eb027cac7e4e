import type { FrequencyRange } from '../../curve/curve.js';
import { exp } from '../../elementary/exponential.js';
import { log, log2, log10 } from '../../elementary/logarithm.js';
import { cos, sin } from '../../elementary/sine.js';
import { speakerWhitener, type Whitener } from '../speaker/speakerPrior.js';

/** The comb of a reflection that a speaker was slid along, the same in every placement. */
export interface StayedComb {
  /** How much longer its way is than the direct one. */
  readonly differenceM: number;
  /** What it adds to the direct sound, on the curve's own grid. */
  readonly levelDb: Float64Array;
}

/** Near surfaces' combs begin at several kilohertz, so all is looked at that a speaker radiates widely. */
const SPAN: FrequencyRange = { fromHz: 120, toHz: 14000 };
const EVERY = 2;
const LEAST_POINTS = 48;
/** From a microphone held low over a desk to floors. */
const DIFFERENCE = { fromM: 0.03, toM: 1.6, lnStep: 0.01 };
const STRENGTHS = [0.25, 0.4, 0.55, 0.75];
const MIDDLE_STRENGTH = 0.5;
/** Nulls are filled down to this power by all that comes from elsewhere. */
const FLOOR_POWER = 0.03;
/** Order of the comb beyond which a curve's smoothing hides it. */
const HIDDEN_FROM = 12;
const FOLLOWED = 6;
const MOST = 2;
/** To be called a comb; a speaker's own dips, which stay as well, seldom reach 20, desks 34 to 350. */
const LEAST_GAIN = 25;
const LEAST_GAIN_EACH = 10;
/** A hand sets the microphone down again to a centimetre, which is so much of the way by a near surface. */
const HAND = [-0.04, -0.02, 0, 0.02, 0.04];
/**
 * A tweeter sits above its woofer, so by way of a desk its sound goes farther: times as far, and from where on. Sizes of small
 * speakers, common practice, no published source.
 */
const TWEETER = { times: [1, 1.2, 1.45], fromHz: 2200 };
/** A speaker's own; more uneven than sound ones are, since it must not be taken for a comb. */
const RIPPLES = [
  { sigmaDb: 2.5, widthOctaves: 1.4 },
  { sigmaDb: 1.5, widthOctaves: 0.25 },
];
const NOISE_DB = 0.7;
/** The depth of nulls says little: it hangs on the last per cent. */
const DEEP = { fromDb: 3, noisePerDb: 0.5 };

/** How the strength goes with frequency over the first null's: all the same, dull above, and a finite board in the bass. */
const SHAPES: readonly ((x: number) => number)[] = [
  () => 1,
  (x) => 1 / Math.sqrt(1 + (x / 4) ** 2),
  (x) => x / Math.sqrt(0.3 + x * x),
];

/**
 * Reflections that are the same in all placements, and so of surfaces that the speaker was moved along: combs in the
 * mean of all curves, over the whole range, each of which has to be in every one of them.
 *
 * @param curves levels of at least two placements, n
 */
export function stayedCombs(
  frequencyHz: Float64Array,
  curves: readonly Float64Array[],
  range: FrequencyRange,
  speedOfSoundMs: number,
): StayedComb[] {
  const at = Array.from(frequencyHz.keys()).filter(
    (i) =>
      i % EVERY === 0 &&
      frequencyHz[i]! >= Math.max(SPAN.fromHz, range.fromHz) &&
      frequencyHz[i]! <= Math.min(SPAN.toHz, range.toHz),
  );
  if (at.length < LEAST_POINTS) return [];
  const hz = Float64Array.from(at, (i) => frequencyHz[i]!);
  const each = curves.map((levelDb) => Float64Array.from(at, (i) => levelDb[i]!));
  const mean = hz.map((_, k) => each.reduce((sum, levelDb) => sum + levelDb[k]!, 0) / each.length);
  const whitener = whitenerFor(hz, mean);
  const found: StayedComb[] = [];
  let left = mean;
  let leftEach: readonly Float64Array[] = each;
  while (found.length < MOST) {
    const comb = bestComb(hz, left, whitener, speedOfSoundMs);
    const own = leftEach.map((levelDb) => nearest(hz, levelDb, comb, whitener, speedOfSoundMs));
    const gains = own.map(({ gain }) => gain);
    const meanGain = gains.reduce((sum, gain) => sum + gain, 0) / gains.length;
    if (meanGain < LEAST_GAIN || Math.min(...gains) < LEAST_GAIN_EACH) break;
    found.push({
      differenceM: own[0]!.comb.differenceM,
      levelDb: combDb(frequencyHz, own[0]!.comb, speedOfSoundMs),
    });
    left = minus(left, combDb(hz, comb, speedOfSoundMs));
    leftEach = leftEach.map((levelDb, k) => minus(levelDb, combDb(hz, own[k]!.comb, speedOfSoundMs)));
  }
  return found;
}

interface Comb {
  /** Of the woofer. */
  readonly differenceM: number;
  readonly strength: number;
  readonly shape: number;
  /** How many times as long as the woofer's the tweeter's is. */
  readonly times: number;
}

function bestComb(hz: Float64Array, levelDb: Float64Array, whitener: Whitener, speedOfSoundMs: number): Comb {
  const costWith = (comb: Comb) => costOf(whitener, minus(levelDb, combDb(hz, comb, speedOfSoundMs)));
  const priced = (combs: readonly Comb[]) =>
    combs.map((comb) => ({ comb, cost: costWith(comb) })).sort((a, b) => a.cost - b.cost);
  const steps = Math.ceil(log(DIFFERENCE.toM / DIFFERENCE.fromM) / DIFFERENCE.lnStep);
  const coarse = priced(
    TWEETER.times.flatMap((times) =>
      Array.from({ length: steps + 1 }, (_, k) => ({
        differenceM: DIFFERENCE.fromM * exp(k * DIFFERENCE.lnStep),
        strength: MIDDLE_STRENGTH,
        shape: 1,
        times,
      })),
    ),
  ).slice(0, FOLLOWED);
  return priced(
    coarse.flatMap(({ comb }) =>
      STRENGTHS.flatMap((strength) => SHAPES.map((_, shape) => ({ ...comb, strength, shape }))),
    ),
  )[0]!.comb;
}

/** The same comb as it fits one placement best, and how much better (in squared deviations) that is than none. */
function nearest(
  hz: Float64Array,
  levelDb: Float64Array,
  comb: Comb,
  whitener: Whitener,
  speedOfSoundMs: number,
): { readonly comb: Comb; readonly gain: number } {
  const none = costOf(whitener, levelDb);
  return HAND.map((off) => {
    const own = { ...comb, differenceM: comb.differenceM * (1 + off) };
    return { comb: own, gain: none - costOf(whitener, minus(levelDb, combDb(hz, own, speedOfSoundMs))) };
  }).reduce((a, b) => (b.gain > a.gain ? b : a));
}

const minus = (a: Float64Array, b: Float64Array) => a.map((value, k) => value - b[k]!);

function combDb(
  hz: Float64Array,
  { differenceM, strength, shape, times }: Comb,
  speedOfSoundMs: number,
): Float64Array {
  const firstHz = speedOfSoundMs / (2 * differenceM);
  return hz.map((f) => {
    const x = f / firstHz;
    const g = (strength * SHAPES[shape]!(x)) / Math.sqrt(1 + ((x / HIDDEN_FROM) ** 2) ** 2);
    const tweeter = 1 / (1 + ((TWEETER.fromHz / f) ** 2) ** 2);
    const re = 1 + g * ((1 - tweeter) * cos(Math.PI * x) + tweeter * cos(Math.PI * x * times));
    const im = g * ((1 - tweeter) * sin(Math.PI * x) + tweeter * sin(Math.PI * x * times));
    return 10 * log10(re * re + im * im + FLOOR_POWER);
  });
}

const costOf = (whitener: Whitener, levelDb: Float64Array) =>
  whitener.whiten(levelDb).reduce((sum, x) => sum + x * x, 0);

function whitenerFor(hz: Float64Array, levelDb: Float64Array): Whitener {
  const octave = hz.map(log2);
  const noiseDb = levelDb.map((l, k) => {
    let sum = 0;
    let count = 0;
    for (let j = Math.max(0, k - 18); j <= Math.min(hz.length - 1, k + 18); j++) {
      sum += levelDb[j]!;
      count++;
    }
    return NOISE_DB + DEEP.noisePerDb * Math.max(0, sum / count - l - DEEP.fromDb);
  });
  return speakerWhitener(octave, { ripples: RIPPLES, noiseDb });
}

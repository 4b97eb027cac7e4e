import { formatFrequency } from '../units/formatFrequency.js';
import type { Feature } from './detectFeatures.js';
import type { DiagnosisInput } from './diagnosisInput.js';

/** What other placements, other positions and the impulse response say of a dip. */
export interface PlacementClues {
  /** Sentences that lay it to the placement. */
  readonly placement: readonly string[];
  /** Sentences that lay it to the speaker. */
  readonly speaker: readonly string[];
}

/** A dip within this share of the frequency is the same dip … */
const SAME_SHARE = 0.04;
/** … if it keeps this share of its depth, and it is gone if it keeps less than the second. */
const STAYED_DEPTH = 0.65;
const GONE_DEPTH = 0.4;
/** Positions differ at a placement's dip by more than this, and by more than this many times the usual. */
const WIDE_SPREAD_DB = 1.5;
const WIDE_SPREAD_TIMES = 2;
/** A reflection this weak leaves no dip worth a verdict: 2·0.2 in amplitude, some 3.5 dB. */
const WEAKEST_REFLECTION_DB = -14;
const COMB_SHARE = 0.05;
const COMB_ORDERS = [1, 2, 3];

/**
 * @param movedDips the dips of each other placement, found in the same way as this one
 */
export function placementClues(
  dip: Feature,
  input: DiagnosisInput,
  movedDips: readonly (readonly Feature[])[],
): PlacementClues {
  const moved = movedDips.map((dips) => keptDepth(dip, dips));
  const gone = moved.filter((share) => share < GONE_DEPTH).length;
  const stayed = moved.filter((share) => share > STAYED_DEPTH).length;
  const at = formatFrequency(dip.frequencyHz);
  const of = moved.length === 1 ? 'the other placement' : `${gone} of ${moved.length} other placements`;
  return {
    placement: [
      ...(gone > 0 ? [`It is gone from ${at} in ${of}: it moves with the placement.`] : []),
      ...wideSpread(dip, input),
      ...comb(dip, input),
    ],
    speaker:
      stayed > 0 && gone === 0
        ? [`It stays at ${at} when the speaker is moved: it belongs to the speaker.`]
        : [],
  };
}

/** The share of the dip's depth that the nearest dip of another placement has at the same frequency. */
function keptDepth({ frequencyHz, levelDb }: Feature, dips: readonly Feature[]): number {
  const same = dips.filter((other) => Math.abs(Math.log(other.frequencyHz / frequencyHz)) < SAME_SHARE);
  return Math.max(0, ...same.map((other) => other.levelDb / levelDb));
}

function wideSpread({ index, frequencyHz }: Feature, { spreadDb, curve, range }: DiagnosisInput): string[] {
  if (!spreadDb) return [];
  const inRange = spreadDb.filter(
    (_, i) => curve.frequencyHz[i]! >= range.fromHz && curve.frequencyHz[i]! <= range.toHz,
  );
  const usual = inRange.slice().sort()[inRange.length >> 1] ?? 0;
  const near = spreadDb.subarray(Math.max(0, index - 2), index + 3);
  const here = near.reduce((sum, db) => sum + db, 0) / near.length;
  if (here < WIDE_SPREAD_DB || here < WIDE_SPREAD_TIMES * usual) return [];
  return [
    `The positions differ by ${here.toFixed(1)} dB at ${formatFrequency(frequencyHz)} and by ${usual.toFixed(1)} dB elsewhere: it depends on the place.`,
  ];
}

function comb({ frequencyHz }: Feature, { reflections = [] }: DiagnosisInput): string[] {
  const hit = reflections
    .filter(({ levelDb }) => levelDb >= WEAKEST_REFLECTION_DB)
    .flatMap((reflection) =>
      COMB_ORDERS.map((order) => ({ reflection, hz: (2 * order - 1) / (2 * reflection.delayS) })),
    )
    .filter(({ hz }) => Math.abs(Math.log(hz / frequencyHz)) < COMB_SHARE)
    .sort((a, b) => b.reflection.levelDb - a.reflection.levelDb)[0];
  if (!hit) return [];
  const { delayS, levelDb, pathDifferenceM } = hit.reflection;
  return [
    `A reflection ${(1000 * delayS).toFixed(2)} ms after the direct sound (${levelDb.toFixed(1)} dB, a path ${(100 * pathDifferenceM).toFixed(0)} cm longer) cancels at ${formatFrequency(hit.hz)}.`,
  ];
}

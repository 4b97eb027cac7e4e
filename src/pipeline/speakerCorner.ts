import type { Setup } from '../acoustics/setup.js';
import { speedOfSound } from '../acoustics/speedOfSound.js';
import type { Curve } from '../curve/curve.js';
import { sliceCurve } from '../curve/sliceCurve.js';
import { type WorkingRange, workingRange } from '../curve/workingRange.js';
import { wallLiftDb } from '../diagnosis/paths/wallLift.js';
import { fitRollOff, isBox, type RollOff } from '../diagnosis/speaker/rollOff.js';
import { formatFrequency } from '../units/formatFrequency.js';
import type { Warning } from '../warning.js';
import type { TrustedSpan } from './trustedSpan.js';

/** The corner (3 dB down) of the box that fits the fall with what the walls add taken off. */
export interface OwnCorner {
  readonly hz: number;
  /** The same with walls that send back little, and much. */
  readonly fromHz: number;
  readonly toHz: number;
  readonly rollOff?: RollOff;
}

export interface MeasuredCorner {
  readonly hz: number;
  /** Absent where too little was measured to say more than where the level is 10 dB down. */
  readonly rollOff?: RollOff;
}

/** Pressure reflection factors of walls in the bass: usual, little, much; common practice, no published source. */
const USUAL_FACTOR = 0.75;
const LITTLE_FACTOR = 0.55;
const MUCH_FACTOR = 0.9;
/** Less than this above the corner as measured, the two are one. */
const CLEARLY = 1.08;

/**
 * Lower corner as measured, from the boxes that fit the fall; absent where the data show no fall, or where it is that of
 * the sweep: where the curve is 10 dB down only beyond the sweep, what was swept must show a box by itself.
 */
export function measuredCorner(
  curve: Curve,
  found: WorkingRange,
  trust?: TrustedSpan,
): MeasuredCorner | undefined {
  if (found.cornerHz === undefined) return undefined;
  const sweptFromHz = trust?.swept?.fromHz ?? 0;
  if (found.cornerHz < sweptFromHz) {
    const swept = sliceCurve(curve, { fromHz: sweptFromHz, toHz: Number.POSITIVE_INFINITY });
    const rollOff = fitRollOff(swept, found);
    return rollOff && isBox(rollOff) && rollOff.fromHz > sweptFromHz
      ? { hz: rollOff.cornerHz, rollOff }
      : undefined;
  }
  const rollOff = fitRollOff(curve, found);
  return rollOff ? { hz: rollOff.cornerHz, rollOff } : { hz: found.cornerHz };
}

/**
 * The speaker's own corner, where it lies clearly above the one measured: the walls of the set-up lift the bass, and the
 * speaker seems to reach lower than it does. Only the higher of the two is of use: there the driver loses its load.
 */
export function ownCorner(
  curve: Curve,
  measuredHz: number | undefined,
  setup: Setup | undefined,
  trust: TrustedSpan | undefined,
): OwnCorner | undefined {
  if (!setup || setup.surfaces.length === 0) return undefined;
  // What a gate leaves out has not lifted anything.
  const withinM = trust ? speedOfSound(setup.temperatureC) / trust.resolvedFromHz : Number.POSITIVE_INFINITY;
  const cornerWith = (factor: number) => {
    const lift = wallLiftDb(setup, curve.frequencyHz, factor, withinM);
    const direct = { ...curve, levelDb: curve.levelDb.map((db, i) => db - lift[i]!) };
    return measuredCorner(direct, workingRange(direct), trust);
  };
  const usual = cornerWith(USUAL_FACTOR);
  if (!usual || usual.hz < (measuredHz ?? 0) * CLEARLY || usual.hz < (trust?.fromHz ?? 0)) return undefined;
  const { hz, rollOff } = usual;
  const others = [LITTLE_FACTOR, MUCH_FACTOR].map((factor) => cornerWith(factor)?.hz ?? hz);
  return {
    hz,
    fromHz: Math.min(hz, ...others),
    toHz: Math.max(hz, ...others),
    ...(rollOff && { rollOff: { ...rollOff, withoutWalls: true } }),
  };
}

/** What the higher corner means for the EQ. */
export function liftedCorner(
  own: OwnCorner | undefined,
  measuredHz: number | undefined,
  askedFromHz: number | undefined,
): Warning[] {
  if (!own || askedFromHz !== undefined) return [];
  const seems =
    measuredHz === undefined
      ? 'the curve shows no lower end of the speaker'
      : `the speaker seems to begin at ${formatFrequency(measuredHz)}`;
  const at = formatFrequency(own.hz);
  const between = `${formatFrequency(own.fromHz)} to ${formatFrequency(own.toHz)}`;
  return [
    {
      code: 'corner-lifted-by-walls',
      message:
        `Walls lift the bass: where it was measured ${seems}. With what the walls of the set-up add taken off it begins ` +
        `at about ${at} (${between}, by how much they send back). Below that the boost allowed falls to nothing within half an octave: there it costs ` +
        "excursion, and below a vent's tuning the driver has no load. The lower limit that the maker states, given with " +
        '--from, is the better bound.',
      frequencyHz: own.hz,
    },
  ];
}

/** A boost so small near the corner is not worth a word … */
export const AUDIBLE_BOOST_DB = 0.6;
/** … and as low as this a corner is looked for where none was found. */
const BASS_HZ = 100;

/** Up to where a boost is near the lower end of the speaker. */
export function nearCornerHz(cornerHz: number | undefined): number {
  return Math.SQRT2 * (cornerHz ?? BASS_HZ / Math.SQRT2);
}

/**
 * The same without distances: how much the walls add cannot be known, so it is said where the bass is boosted.
 *
 * @param boostDb greatest sum of the EQ below `nearCornerHz`
 */
export function cornerInRoom(
  { setup, fromHz }: { readonly setup?: Setup; readonly fromHz?: number },
  cornerHz: number | undefined,
  boostDb: number,
): Warning[] {
  if ((setup && setup.surfaces.length > 0) || fromHz !== undefined || boostDb <= AUDIBLE_BOOST_DB) return [];
  const bound =
    cornerHz === undefined ? 'the lower end of the speaker' : `the corner at ${formatFrequency(cornerHz)}`;
  return [
    {
      code: 'corner-in-room',
      message:
        `The EQ boosts the bass by up to ${boostDb.toFixed(1)} dB. If this was measured in a room, its walls lift the bass, and ` +
        `${bound} may in truth lie higher: below it a boost costs excursion, and below a vent's tuning the driver has no load. ` +
        'Give the lower limit that the maker states with --from, or the distances of the walls with --setup.',
      ...(cornerHz !== undefined && { frequencyHz: cornerHz }),
    },
  ];
}

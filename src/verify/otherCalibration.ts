import type { Curve } from '../curve/curve.js';
import { curveDigest } from '../curve/curveDigest.js';
import type { Design } from '../schema/design.js';
import type { Warning } from '../warning.js';

/** What was taken off a measurement as the microphone's deviation. */
export type TakenOff = { readonly curve: Curve; readonly name?: string } | 'none';

/**
 * A warning where the design's own curve had a calibration taken off, and what is held against it had none or another:
 * the microphone's deviation then stands between the two.
 *
 * @param made what the design says; a design that names none may be of an earlier version
 * @param taken absent where it is not known
 */
export function otherCalibration(made: Design['calibration'], taken: TakenOff | undefined): Warning[] {
  if (!made || taken === undefined) return [];
  if (taken !== 'none' && curveDigest(taken.curve) === made.digest) return [];
  const instead = taken === 'none' ? 'nothing' : `${named(taken.name)}, which holds other numbers`;
  return [
    {
      code: 'other-calibration',
      message:
        `From the curve of the design ${named(made.name)} was taken off, from this measurement ${instead}. ` +
        'What is smooth over octaves may come of that alone and is laid to no single filter here, so that a broad one may be wrong unnoticed: give the same --calibration as the fit had; for another microphone its own, ' +
        'and a measurement made with it and the filters off as well (--before).',
    },
  ];
}

const named = (name: string | undefined): string =>
  name === undefined ? 'a calibration' : `the calibration ${name}`;

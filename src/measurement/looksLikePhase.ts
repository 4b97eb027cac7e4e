import type { Curve } from '../curve/curve.js';
import type { Warning } from '../warning.js';

const HALF_TURN = 180;
/** Written with few decimals it may lie a little beyond. */
const MOST = HALF_TURN + 0.5;
/** From one frequency to the next no level jumps by 180 dB, and surely not twice. */
const LEAST_WRAPS = 2;
/** Between wraps a phase comes near both ends; a level with rows of −120 for "no data" does not. */
const NEAR_END = 0.75 * HALF_TURN;

/** A warning where levels seem to be a phase in degrees: within half a turn either way, and wrapped at its ends. */
export function looksLikePhase({ levelDb }: Curve, name: string): readonly Warning[] {
  let wraps = 0;
  let [least, most] = [0, 0];
  for (let i = 0; i < levelDb.length; i++) {
    if (Math.abs(levelDb[i]!) > MOST) return [];
    least = Math.min(least, levelDb[i]!);
    most = Math.max(most, levelDb[i]!);
    if (i > 0 && Math.abs(levelDb[i]! - levelDb[i - 1]!) > HALF_TURN) wraps++;
  }
  if (wraps < LEAST_WRAPS || least > -NEAR_END || most < NEAR_END) return [];
  return [
    {
      code: 'level-unit-suspect',
      message:
        `${name} has levels that jump from one end of −180 to 180 to the other ${wraps} times, as a phase in degrees does. If its columns are ` +
        'frequency, phase, level, name them so in a heading line: nothing that is found here holds otherwise.',
    },
  ];
}

import type { Curve } from '../curve/curve.js';
import type { Warning } from '../warning.js';

/** No speaker measured in a room keeps within so few decibels over three octaves of which one is bass … */
const MOST_SPAN = 3;
const LEAST_RANGE = 8;
const BASS_HZ = 200;
/** … and what hardly differs at all is a flat line, whatever its unit. */
const LEAST_RATIO = 1.4;

/**
 * A warning where levels seem to be pressures or ratios in place of decibels: all above zero and below 3, a few decibels
 * from least to greatest taken as ratios, next to nothing taken as decibels.
 */
export function looksLinear({ frequencyHz, levelDb }: Curve, name: string): readonly Warning[] {
  let [least, greatest] = [Number.POSITIVE_INFINITY, 0];
  for (const value of levelDb) {
    least = Math.min(least, value);
    greatest = Math.max(greatest, value);
  }
  const [fromHz, toHz] = [frequencyHz[0]!, frequencyHz[frequencyHz.length - 1]!];
  if (!(least > 0) || greatest > MOST_SPAN || greatest < LEAST_RATIO * least) return [];
  if (fromHz > BASS_HZ || toHz < LEAST_RANGE * fromHz) return [];
  return [
    {
      code: 'level-unit-suspect',
      message:
        `${name} has levels between ${Number(least.toPrecision(3))} and ${Number(greatest.toPrecision(3))} throughout. ` +
        'If they are pressures or ratios, export them in dB: taken for dB, next to nothing stands out.',
    },
  ];
}

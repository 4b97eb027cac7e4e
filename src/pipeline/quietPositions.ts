import type { Curve } from '../curve/curve.js';
import { pow10 } from '../elementary/power.js';
import type { Warning } from '../warning.js';

/** In a power average a position this far below another has a tenth of its say. */
const HARDLY_COUNTS_DB = 10;

/**
 * Warnings of positions so far below the loudest that the power average all but leaves them out, as where the gain was
 * changed between measurements.
 *
 * @param positions all on one grid of equal steps over log frequency
 * @param fileNames in the same order
 */
export function quietPositions(positions: readonly Curve[], fileNames: readonly string[]): Warning[] {
  const means = positions.map(({ levelDb }) => levelDb.reduce((sum, db) => sum + db, 0) / levelDb.length);
  const loudest = means.indexOf(Math.max(...means));
  return means.flatMap((mean, i) => {
    const belowDb = means[loudest]! - mean;
    if (belowDb < HARDLY_COUNTS_DB) return [];
    const percent = Math.round(100 * pow10(-belowDb / 10));
    return [
      {
        code: 'position-too-quiet',
        message:
          `${fileNames[i]} lies ${belowDb.toFixed(1)} dB below ${fileNames[loudest]} on average, so it has ` +
          `${percent < 1 ? 'less than 1' : percent} % of its say in the power average. Measure all positions at one ` +
          'gain and on one scale, or leave it out.',
      },
    ];
  });
}

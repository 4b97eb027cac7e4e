import type { Curve } from '../curve/curve.js';
import { interpolateLevel } from '../curve/interpolateLevel.js';
import { lowerIndex } from '../curve/lowerIndex.js';
import { InputError } from '../inputError.js';
import { formatFrequency } from '../units/formatFrequency.js';
import type { Warning } from '../warning.js';

/** No microphone of measuring deviates by so much on average (common practice, no published source). */
const FAR_DB = 20;

/**
 * Takes a microphone's own response out of a measurement: level minus the calibration's level, and phase minus its
 * phase where both have one. Between the calibration's points it runs straight over log frequency; where it ends
 * before the measurement its end value is held, and a warning says so, as of one whose levels are no deviation.
 *
 * @throws InputError where calibration and measurement have no frequency in common
 */
export function applyCalibration(
  curve: Curve,
  calibration: Curve,
): { readonly curve: Curve; readonly warnings: readonly Warning[] } {
  const { frequencyHz, levelDb, phaseRad } = curve;
  const [fromHz, toHz] = ends(calibration);
  const [firstHz, lastHz] = ends(curve);
  const span = `${formatFrequency(fromHz)} to ${formatFrequency(toHz)}`;
  if (fromHz > lastHz || toHz < firstHz) {
    throw new InputError(
      `the calibration covers ${span}, the measurement ${formatFrequency(firstHz)} to ${formatFrequency(lastHz)}; expected a calibration of the same range`,
    );
  }
  const calibrationPhase = calibration.phaseRad;
  const offDb = frequencyHz.map((hz) => interpolateLevel(calibration, hz));
  const corrected: Curve = {
    frequencyHz,
    levelDb: levelDb.map((l, i) => l - offDb[i]!),
    ...(phaseRad && {
      phaseRad: calibrationPhase
        ? phaseRad.map((p, i) => p - phaseAt(calibration.frequencyHz, calibrationPhase, frequencyHz[i]!))
        : phaseRad,
    }),
  };
  const slack = 1.001;
  const short = firstHz * slack < fromHz || lastHz > toHz * slack;
  const warnings: Warning[] = short
    ? [
        {
          code: 'calibration-range',
          message: `The calibration covers only ${span}; outside of that its end values were used. Levels there are less certain.`,
        },
      ]
    : [];
  const meanDb = offDb.reduce((sum, db) => sum + db, 0) / offDb.length;
  if (Math.abs(meanDb) > FAR_DB) {
    warnings.push({
      code: 'calibration-suspect',
      message:
        `The calibration lies at ${meanDb.toFixed(1)} dB on average, where a microphone's deviation stays within a few dB of 0. ` +
        'If the file is a measurement or another one, what was taken off is wrong.',
    });
  }
  return { curve: corrected, warnings };
}

const ends = ({ frequencyHz }: Curve) => [frequencyHz[0]!, frequencyHz[frequencyHz.length - 1]!] as const;

function phaseAt(x: Float64Array, y: Float64Array, hz: number): number {
  const i = Math.min(x.length - 2, Math.max(0, lowerIndex(x, hz)));
  const t = Math.min(1, Math.max(0, (hz - x[i]!) / (x[i + 1]! - x[i]!)));
  return y[i]! + t * (y[i + 1]! - y[i]!);
}

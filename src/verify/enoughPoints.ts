import type { Curve } from '../curve/curve.js';
import { pointsPerOctave } from '../curve/pointsPerOctave.js';
import { InputError } from '../inputError.js';
import { formatFrequency } from '../units/formatFrequency.js';
import type { Warning } from '../warning.js';

/**
 * With fewer, more than half of simulated faultless installations were not found as promised: what lies between the
 * points looks like another room.
 */
const LEAST = 8;
/** With as many as the comparison has itself it is no coarser than need be. */
const ENOUGH = 24;
/** Nominal frequencies of third octaves and their parts lie a little unevenly. */
const SLACK = 0.9;

/**
 * What should be known where a measurement is coarse for a comparison.
 *
 * @param name what to call the measurement: its file, or "the measurement with the filters on"
 * @throws InputError where it is too coarse to tell anything
 */
export function enoughPoints(name: string, { frequencyHz }: Curve, fromHz: number, toHz: number): Warning[] {
  const found = pointsPerOctave(frequencyHz, fromHz, toHz);
  const span = `from ${formatFrequency(fromHz)} to ${formatFrequency(toHz)}`;
  const about = `about ${Number(found.toPrecision(2))} ${found.toPrecision(2) === '1.0' ? 'point' : 'points'} an octave`;
  if (found < SLACK * LEAST) {
    throw new InputError(
      `${name} is too coarse to tell whether the design keeps its promise: found ${about} ${span}, ` +
        `expected at least ${LEAST}, better ${ENOUGH}`,
    );
  }
  if (found >= SLACK * ENOUGH) return [];
  return [
    {
      code: 'coarse-measurement',
      message:
        `Only ${about} ${span} in ${name}: narrow filters and dips may fall between them, and what is named here may ` +
        `be wrong. Measure with ${ENOUGH} points an octave or more.`,
    },
  ];
}

import type { Curve } from '../../curve/curve.js';
import type { ImpulseResponse } from '../samples/impulseResponse.js';
import type { Gate } from './gate.js';
import { impulseToCurve } from './impulseToCurve.js';

export interface DirectAndRoom {
  /** Through the gate: the speaker. */
  readonly direct: Curve;
  /** All that was recorded: speaker and room. */
  readonly whole: Curve;
  /** Whole over direct, level and phase: what the room makes of the speaker. */
  readonly room: Curve;
}

/**
 * Speaker and room apart, at frequencies that the gate resolves.
 *
 * @param frequencyHz points below what the gate resolves are left out
 */
export function directAndRoom(
  impulse: ImpulseResponse,
  arrivalS: number,
  gate: Gate,
  frequencyHz: Float64Array,
): DirectAndRoom {
  const { resolvedFromHz } = impulseToCurve(impulse, {
    arrivalS,
    gate,
    frequencyHz: frequencyHz.slice(0, 1),
  });
  const resolved = frequencyHz.filter((f) => f >= resolvedFromHz);
  const direct = impulseToCurve(impulse, { arrivalS, gate, frequencyHz: resolved }).curve;
  const whole = impulseToCurve(impulse, { arrivalS, frequencyHz: resolved }).curve;
  const room = {
    frequencyHz: resolved,
    levelDb: whole.levelDb.map((l, i) => l - direct.levelDb[i]!),
    phaseRad: whole.phaseRad!.map((p, i) => p - direct.phaseRad![i]!),
  };
  return { direct, whole, room };
}

import type { GateChoice } from '../impulse/analyseImpulse.js';
import { InputError } from '../inputError.js';
import { parseTimeS } from '../units/parseTimeS.js';

/** What a gate may be written as, for messages. */
export const GATE_EXPECTED = 'a time such as "5 ms", or the word auto';

/**
 * How much of an impulse response counts, as a person writes it: a time after the direct sound, or "auto" for all before
 * the first strong reflection.
 *
 * @param what names the option or field in messages
 * @throws InputError saying what was found and what was expected
 */
export function readGate(written: string, what: string): GateChoice {
  if (written.trim() === 'auto') return 'auto';
  const afterS = parseTimeS(written, what);
  if (afterS > 0) return { afterS };
  throw new InputError(`${what}: found "${written}", expected ${GATE_EXPECTED}`);
}

import type { Command } from 'commander';
import type { GateChoice } from '../src/impulse/analyseImpulse.js';
import { InputError } from '../src/inputError.js';
import type { MeasurementReading } from '../src/measurement/readMeasurement.js';
import { parseTimeS } from '../src/units/parseTimeS.js';

/** What is known to every command that reads an impulse response. */
export interface ImpulseFlags {
  /** False for --no-gate. */
  readonly gate?: string | false;
  readonly channel?: string;
}

export function addImpulseOptions(command: Command, unlessGiven: string): Command {
  return command
    .option(
      '--gate <time | auto>',
      `WAV: keep this much after the direct sound, or all before the first strong reflection (default: ${unlessGiven})`,
    )
    .option('--no-gate', 'WAV: keep all of it')
    .option('--channel <n>', 'WAV: which channel, counted from 1 (default: the first)');
}

/** @throws InputError naming the option */
export function impulseReading({ gate, channel }: ImpulseFlags): MeasurementReading {
  return {
    ...(gate !== undefined && { gate: gateChoice(gate) }),
    ...(channel !== undefined && { channel: wholeNumber('--channel', channel, 1, 65535) }),
  };
}

function gateChoice(written: string | false): GateChoice {
  if (written === false) return 'none';
  if (written.trim() === 'auto') return 'auto';
  const afterS = parseTimeS(written, '--gate');
  if (afterS > 0) return { afterS };
  throw new InputError(`--gate: found "${written}", expected a time such as "5 ms", or the word auto`);
}

/** @throws InputError naming the option */
export function wholeNumber(option: string, written: string, min: number, max: number): number {
  const value = /^\s*\d+\s*$/.test(written) ? Number(written) : Number.NaN;
  if (value >= min && value <= max) return value;
  throw new InputError(`${option}: found "${written}", expected a whole number from ${min} to ${max}`);
}

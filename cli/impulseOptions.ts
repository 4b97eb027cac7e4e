import type { Command } from 'commander';
import { InputError } from '../src/inputError.js';
import { readGate } from '../src/measurement/readGate.js';
import type { MeasurementReading } from '../src/measurement/readMeasurement.js';

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
    ...(gate !== undefined && { gate: gate === false ? 'none' : readGate(gate, '--gate') }),
    ...(channel !== undefined && { channel: wholeNumber('--channel', channel, 1, 65535) }),
  };
}

/** @throws InputError naming the option */
export function wholeNumber(option: string, written: string, min: number, max: number): number {
  const value = /^\s*\d+\s*$/.test(written) ? Number(written) : Number.NaN;
  if (value >= min && value <= max) return value;
  throw new InputError(`${option}: found "${written}", expected a whole number from ${min} to ${max}`);
}

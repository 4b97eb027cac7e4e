import type { Command } from 'commander';
import { joinWords } from '../src/export/words/joinWords.js';
import { InputError } from '../src/inputError.js';
import type { Measurement } from '../src/measurement/measurement.js';
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

/** The options that ask for more than is done without them. */
export function askedOfImpulses({ gate, channel }: ImpulseFlags): string[] {
  return [
    ...(gate === undefined || gate === false ? [] : ['--gate']),
    ...(channel === undefined ? [] : ['--channel']),
  ];
}

/** @throws InputError where what was asked of impulse responses finds none */
export function refuseWithoutImpulse(flags: ImpulseFlags, measurements: readonly Measurement[]): void {
  const asked = askedOfImpulses(flags);
  // Only in impulse responses reflections are looked for, and given even where there are none.
  if (asked.length === 0 || measurements.some(({ reflections }) => reflections !== undefined)) return;
  throw new InputError(
    `${joinWords(asked)}: found with measurements in text only, expected an impulse response (WAV) among them: ` +
      'a curve in text has one channel, and stays as it was gated',
  );
}

/** @throws InputError naming the option */
export function wholeNumber(option: string, written: string, min: number, max: number): number {
  const value = /^\s*\d+\s*$/.test(written) ? Number(written) : Number.NaN;
  if (value >= min && value <= max) return value;
  throw new InputError(`${option}: found "${written}", expected a whole number from ${min} to ${max}`);
}

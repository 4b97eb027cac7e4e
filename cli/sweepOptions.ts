import type { Command } from 'commander';
import {
  type SweepOptions,
  type SweepParameters,
  sweepParameters,
} from '../src/impulse/sweep/sweepParameters.js';
import { InputError } from '../src/inputError.js';
import { parseFrequencyHz } from '../src/units/parseFrequencyHz.js';
import { parseGainDb } from '../src/units/parseGainDb.js';
import { parseTimeS } from '../src/units/parseTimeS.js';
import { gather } from './gather.js';
import { optionName } from './options.js';

/** What makes a sweep, as it was written. */
export interface SweepFlags {
  readonly from?: string;
  readonly to?: string;
  readonly length?: string;
  readonly level?: string;
  readonly fadeIn?: string;
  readonly fadeOut?: string;
  readonly silenceBefore?: string;
  readonly silenceAfter?: string;
  readonly sampleRate?: string;
}

const FIELDS: Readonly<
  Record<keyof SweepFlags, { readonly field: keyof SweepOptions; readonly parse: typeof parseTimeS }>
> = {
  from: { field: 'fromHz', parse: parseFrequencyHz },
  to: { field: 'toHz', parse: parseFrequencyHz },
  length: { field: 'durationS', parse: parseTimeS },
  level: { field: 'levelDb', parse: parseGainDb },
  fadeIn: { field: 'fadeInS', parse: parseTimeS },
  fadeOut: { field: 'fadeOutS', parse: parseTimeS },
  silenceBefore: { field: 'silenceBeforeS', parse: parseTimeS },
  silenceAfter: { field: 'silenceAfterS', parse: parseTimeS },
  sampleRate: { field: 'sampleRateHz', parse: parseFrequencyHz },
};

/** What holds unless it is given, in words, where it is another thing for a sweep to be made and for one that was recorded. */
export interface SweepDefaults {
  readonly length: string;
  readonly sampleRate: string;
}

export function addSweepOptions(command: Command, { length, sampleRate }: SweepDefaults): Command {
  return command
    .option('--from <frequency>', 'where the sweep begins (default: 20 Hz)')
    .option('--to <frequency>', 'where it ends (default: 20 kHz, or 0.45 of a lower sample rate)')
    .option('--length <time>', `how long it lasts (${length})`)
    .option('--level <dB>', 'its level, relative to full scale (default: -12 dB)')
    .option('--fade-in <time>', 'fade at its start (default: two periods of its lowest tone)')
    .option('--fade-out <time>', 'fade at its end (default: 5 ms)')
    .option('--silence-before <time>', 'silence before it (default: 0.5 s)')
    .option('--silence-after <time>', 'silence after it, as long as the room rings (default: 2 s)')
    .option('--sample-rate <frequency>', `sample rate of the file (default: ${sampleRate})`);
}

/** Whether the user said anything of the sweep. */
export function describesSweep(flags: SweepFlags): boolean {
  return sweepFields.some((flag) => flags[flag] !== undefined);
}

const sweepFields = Object.keys(FIELDS) as (keyof SweepFlags)[];

/** @throws InputError with every problem */
export function readSweepOptions(flags: SweepFlags, unlessGiven: SweepOptions = {}): SweepParameters {
  const options: { -readonly [K in keyof SweepOptions]: SweepOptions[K] } = { ...unlessGiven };
  gather(
    sweepFields.map((flag) => () => {
      const written = flags[flag];
      if (written !== undefined) options[FIELDS[flag].field] = FIELDS[flag].parse(written, optionName(flag));
    }),
  );
  if (options.sampleRateHz !== undefined && !Number.isInteger(options.sampleRateHz))
    throw new InputError(`--sample-rate: found ${options.sampleRateHz} Hz, expected a whole number of Hz`);
  return sweepParameters(options);
}

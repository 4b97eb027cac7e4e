import { log, log10 } from '../../elementary/logarithm.js';
import { InputError } from '../../inputError.js';
import type { Warning } from '../../warning.js';

/** An exponential sine sweep. */
export interface SweepParameters {
  readonly fromHz: number;
  readonly toHz: number;
  /** Of the sweep itself. */
  readonly durationS: number;
  readonly sampleRateHz: number;
  /** Of the sine's peak, relative to full scale. */
  readonly levelDb: number;
  readonly fadeInS: number;
  readonly fadeOutS: number;
  /** Silence before and after, so that nothing of the sound or of the room's decay is cut off. */
  readonly silenceBeforeS: number;
  readonly silenceAfterS: number;
}

/**
 * What undoes the sweep: the sweep reversed in time, its envelope falling as e^(−t/L), which is 6.02 dB an octave
 * from the high end to the low.
 */
export interface InverseSweepParameters {
  /** L = T/ln(f₂/f₁): the time in which the frequency grows e-fold. */
  readonly timeConstantS: number;
  /** From its loudest sample to its quietest, 20·lg(f₂/f₁). */
  readonly fallDb: number;
  /** By how much the response to the n-th harmonic comes before the linear one, L·ln n, from the second on. */
  readonly harmonicLeadS: readonly number[];
}

export type SweepOptions = Partial<SweepParameters>;

/**
 * A complete set of parameters. Unless given: 20 Hz to 20 kHz (or to 0.45 of the sample rate), 10 s, 48 kHz, −12 dBFS,
 * faded in over two periods of the lowest tone, out over 5 ms, half a second of silence before, two after.
 *
 * @throws InputError where they make no sweep
 */
export function sweepParameters(options: SweepOptions = {}): SweepParameters {
  const { sampleRateHz = 48_000, fromHz = 20, durationS = 10, levelDb = -12 } = options;
  const { toHz = Math.min(20_000, 0.45 * sampleRateHz) } = options;
  const {
    fadeInS = Math.min(2 / fromHz, durationS / 10),
    fadeOutS = Math.min(0.005, durationS / 10),
    silenceBeforeS = 0.5,
    silenceAfterS = 2,
  } = options;
  const must = (good: boolean, what: string) => {
    if (!good) throw new InputError(`sweep: ${what}`);
  };
  must(
    sampleRateHz >= 8000 && sampleRateHz <= 384_000,
    `the sample rate must lie between 8000 and 384000 Hz; received ${sampleRateHz}`,
  );
  must(fromHz >= 1, `it must start at 1 Hz or above; received ${fromHz}`);
  must(
    toHz <= sampleRateHz / 2,
    `it must end at or below ${sampleRateHz / 2} Hz, half the sample rate; received ${toHz}`,
  );
  must(toHz >= 2 * fromHz, `it must span at least an octave; received ${fromHz} to ${toHz} Hz`);
  must(
    durationS >= 0.1 && durationS <= 600,
    `its length must lie between 0.1 and 600 s; received ${durationS}`,
  );
  must(levelDb <= 0 && levelDb >= -80, `its level must lie between -80 and 0 dBFS; received ${levelDb}`);
  must(
    fadeInS >= 0 && fadeOutS >= 0 && fadeInS + fadeOutS <= durationS / 2,
    `the fades must not take more than half of its ${durationS} s; received ${fadeInS} and ${fadeOutS} s`,
  );
  must(
    silenceBeforeS >= 0 && silenceAfterS >= 0 && silenceBeforeS + silenceAfterS <= 600,
    `the silence must lie between 0 and 600 s; received ${silenceBeforeS} and ${silenceAfterS} s`,
  );
  return { fromHz, toHz, durationS, sampleRateHz, levelDb, fadeInS, fadeOutS, silenceBeforeS, silenceAfterS };
}

/** Farina, "Simultaneous measurement of impulse response and distortion with a swept-sine technique", AES 108th Convention, 2000. */
export function inverseSweepParameters(
  { fromHz, toHz, durationS }: SweepParameters,
  orders = 5,
): InverseSweepParameters {
  const timeConstantS = durationS / log(toHz / fromHz);
  return {
    timeConstantS,
    fallDb: 20 * log10(toHz / fromHz),
    harmonicLeadS: Array.from({ length: orders - 1 }, (_, i) => timeConstantS * log(i + 2)),
  };
}

/** Small boxes reach no lower; common practice, no published source. */
const LOW_HZ = 40;

/** What to say before a sweep is played. */
export function sweepCautions({ fromHz, levelDb, toHz, durationS }: SweepParameters): readonly Warning[] {
  const cautions: Warning[] = [
    {
      code: 'sweep-is-loud',
      message:
        'Start with the volume right down and raise it step by step; keep your ears away from the speaker and wear ' +
        `protection where it gets loud. A sweep holds full level${toHz > 5000 ? ' in the treble, where tweeters stand the least power,' : ''} ` +
        'longer than music does: stay within what the maker of the speaker allows.',
    },
  ];
  if (fromHz < LOW_HZ)
    cautions.push({
      code: 'sweep-moves-cones',
      message:
        `From ${Number(fromHz.toPrecision(3))} Hz on the cone of a small speaker moves far for little sound, most of all one in a vented box ` +
        'below the tuning of the vent. Stop where it knocks or chuffs, and let the sweep start nearer to the lowest ' +
        'note that the speaker is made for.',
    });
  if (levelDb > -6 || durationS > 30)
    cautions.push({
      code: 'sweep-heats-tweeters',
      message:
        `${levelDb} dBFS over ${durationS} s is more than is needed in most rooms and heats voice coils; ` +
        '-12 dBFS and 10 s are a safer start.',
    });
  return cautions;
}

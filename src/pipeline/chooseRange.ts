import type { Curve, FrequencyRange } from '../curve/curve.js';
import { workingRange } from '../curve/workingRange.js';
import { InputError } from '../inputError.js';
import { formatFrequency } from '../units/formatFrequency.js';
import type { Warning } from '../warning.js';

const AUDIBLE: FrequencyRange = { fromHz: 20, toHz: 20000 };
/** Close to half the sample rate the bilinear transform squeezes every filter shape. */
const SHARE_OF_NYQUIST = 0.9;
const NARROWEST_OCTAVES = 1 / 3;

export interface ChosenRange {
  readonly range: FrequencyRange;
  /** Below this nothing is boosted; absent where the data show no corner. */
  readonly cornerHz?: number;
  readonly warnings: readonly Warning[];
}

/**
 * The span to be corrected: what the user gives, else where the speaker plays, kept inside the data, the audible band
 * and the sample rate.
 *
 * @throws InputError where what the user gives leaves the data or is too narrow
 */
export function chooseRange(
  curve: Curve,
  asked: { readonly fromHz?: number; readonly toHz?: number },
  sampleRateHz: number,
): ChosenRange {
  const data = { fromHz: curve.frequencyHz[0]!, toHz: curve.frequencyHz.at(-1)! };
  const found = workingRange(curve);
  const ceilingHz = (SHARE_OF_NYQUIST * sampleRateHz) / 2;
  checkInside('--from', asked.fromHz, data);
  checkInside('--to', asked.toHz, data);
  const range = {
    fromHz: asked.fromHz ?? Math.max(found.range.fromHz, AUDIBLE.fromHz, data.fromHz),
    toHz: Math.min(asked.toHz ?? Math.min(found.range.toHz, AUDIBLE.toHz), data.toHz, ceilingHz),
  };
  if (!(Math.log2(range.toHz / range.fromHz) >= NARROWEST_OCTAVES)) {
    throw new InputError(
      `the range must span at least a third of an octave; found ${formatFrequency(range.fromHz)} to ` +
        `${formatFrequency(range.toHz)} (data: ${formatFrequency(data.fromHz)} to ${formatFrequency(data.toHz)})`,
    );
  }
  const cornerHz = found.cornerHz === undefined ? undefined : Math.min(found.cornerHz, range.fromHz);
  return {
    range,
    ...(cornerHz !== undefined && { cornerHz }),
    warnings: [
      ...cutByData(asked, found, data, range),
      ...belowCorner(asked.fromHz, found.cornerHz),
      ...cutBySampleRate(asked.toHz ?? Math.min(found.range.toHz, AUDIBLE.toHz), ceilingHz, sampleRateHz),
    ],
  };
}

function checkInside(option: string, hz: number | undefined, data: FrequencyRange): void {
  if (hz === undefined || (hz >= data.fromHz * 0.999 && hz <= data.toHz * 1.001)) return;
  throw new InputError(
    `${option}: found ${formatFrequency(hz)}, expected a frequency inside the data ` +
      `(${formatFrequency(data.fromHz)} to ${formatFrequency(data.toHz)})`,
  );
}

function cutByData(
  asked: { readonly fromHz?: number; readonly toHz?: number },
  found: ReturnType<typeof workingRange>,
  data: FrequencyRange,
  range: FrequencyRange,
): Warning[] {
  const low = asked.fromHz === undefined && found.lowCutByData && data.fromHz > AUDIBLE.fromHz * 1.05;
  const high = asked.toHz === undefined && found.highCutByData && data.toHz < AUDIBLE.toHz * 0.95;
  if (!low && !high) return [];
  const ends = [
    ...(low ? [`below ${formatFrequency(range.fromHz)}`] : []),
    ...(high ? [`above ${formatFrequency(range.toHz)}`] : []),
  ];
  return [
    {
      code: 'range-cut-by-data',
      message:
        `The data end before the speaker does: nothing is known, judged or fitted ${ends.join(' and ')}. ` +
        'Measure over a wider span, or set the range yourself to say that this is meant.',
    },
  ];
}

function belowCorner(askedFromHz: number | undefined, cornerHz: number | undefined): Warning[] {
  if (askedFromHz === undefined || cornerHz === undefined || askedFromHz >= cornerHz * 0.97) return [];
  return [
    {
      code: 'range-below-corner',
      message:
        `The range was asked to start at ${formatFrequency(askedFromHz)}, but the speaker falls away below about ` +
        `${formatFrequency(cornerHz)}: its roll-off now counts as error. EQ there costs excursion and amplifier power; ` +
        'leave out the lower limit to start at the corner.',
      frequencyHz: cornerHz,
    },
  ];
}

function cutBySampleRate(toHz: number, ceilingHz: number, sampleRateHz: number): Warning[] {
  if (toHz <= ceilingHz) return [];
  return [
    {
      code: 'range-cut-by-sample-rate',
      message:
        `The range ends at ${formatFrequency(ceilingHz)}: closer to half the sample rate of ` +
        `${sampleRateHz} Hz no filter keeps its shape.`,
      frequencyHz: ceilingHz,
    },
  ];
}

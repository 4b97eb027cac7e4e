import type { Curve, FrequencyRange } from '../curve/curve.js';
import { workingRange } from '../curve/workingRange.js';
import { fitRollOff } from '../diagnosis/rollOff.js';
import { InputError } from '../inputError.js';
import { formatFrequency } from '../units/formatFrequency.js';
import type { Warning } from '../warning.js';

const AUDIBLE: FrequencyRange = { fromHz: 20, toHz: 20000 };
/** Close to half the sample rate the bilinear transform squeezes every filter shape. */
const SHARE_OF_NYQUIST = 0.9;
const NARROWEST_OCTAVES = 1 / 3;

export interface ChosenRange {
  readonly range: FrequencyRange;
  /** The speaker's lower corner; absent where the data do not show one. */
  readonly cornerHz?: number;
  /** Below this nothing is boosted: the corner, or the lower end asked for where that lies lower. */
  readonly boostFromHz?: number;
  /** One or two sentences: what the ends were taken from. */
  readonly explanation: string;
  readonly warnings: readonly Warning[];
}

/**
 * The span to be corrected: what the user gives, else where the speaker plays, kept inside the data, the audible band
 * and the sample rate. Where the data show the speaker's low-frequency fall, the span begins at the corner (3 dB down)
 * of the box fitted to it and not where it is 10 dB down: between the two EQ could only buy level with excursion.
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
  const corner = speakerCorner(curve, found);
  const ceilingHz = (SHARE_OF_NYQUIST * sampleRateHz) / 2;
  checkInside('--from', asked.fromHz, data);
  checkInside('--to', asked.toHz, data);
  const range = {
    fromHz: asked.fromHz ?? Math.max(corner ?? found.range.fromHz, AUDIBLE.fromHz, data.fromHz),
    toHz: Math.min(asked.toHz ?? Math.min(found.range.toHz, AUDIBLE.toHz), data.toHz, ceilingHz),
  };
  if (!(Math.log2(range.toHz / range.fromHz) >= NARROWEST_OCTAVES)) {
    throw new InputError(
      `the range must span at least a third of an octave; found ${formatFrequency(range.fromHz)} to ` +
        `${formatFrequency(range.toHz)} (data: ${formatFrequency(data.fromHz)} to ${formatFrequency(data.toHz)})`,
    );
  }
  return {
    range,
    ...(corner !== undefined && { cornerHz: corner, boostFromHz: Math.min(corner, range.fromHz) }),
    explanation: explain(asked, found, corner, range),
    warnings: [
      ...cutByData(asked, found, data, range),
      ...belowCorner(asked.fromHz, corner),
      ...cutBySampleRate(asked.toHz ?? Math.min(found.range.toHz, AUDIBLE.toHz), ceilingHz, sampleRateHz),
    ],
  };
}

/** The fitted corner lies above the point 10 dB down by at most this factor (12 dB per octave, well damped). */
const HIGHEST_CORNER = 2;

/** Lower corner of the speaker, from the box that fits its fall; absent where the data show no fall. */
function speakerCorner(curve: Curve, found: ReturnType<typeof workingRange>): number | undefined {
  if (found.cornerHz === undefined) return undefined;
  const fitted = fitRollOff(curve, found.range)?.cornerHz ?? found.cornerHz;
  return Math.min(Math.max(fitted, found.cornerHz), found.cornerHz * HIGHEST_CORNER);
}

function explain(
  asked: { readonly fromHz?: number; readonly toHz?: number },
  found: ReturnType<typeof workingRange>,
  corner: number | undefined,
  range: FrequencyRange,
): string {
  const low =
    asked.fromHz !== undefined
      ? 'its lower end as asked'
      : corner !== undefined && found.cornerHz !== undefined
        ? `its lower end at the speaker's corner (3 dB down; 10 dB down at ${formatFrequency(found.cornerHz)})`
        : 'its lower end where the data or the audible band end';
  const high =
    asked.toHz !== undefined
      ? 'its upper end as asked'
      : found.highCutByData || range.toHz < found.range.toHz * 0.99
        ? 'its upper end where the data, the audible band or the sample rate end'
        : 'its upper end where the curve falls for good 10 dB below the mid band';
  return `Range ${formatFrequency(range.fromHz)} to ${formatFrequency(range.toHz)}: ${low}, ${high}.`;
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

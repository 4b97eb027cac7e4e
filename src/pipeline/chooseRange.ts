import type { Setup } from '../acoustics/setup.js';
import type { Curve, FrequencyRange } from '../curve/curve.js';
import { workingRange } from '../curve/workingRange.js';
import type { RollOff } from '../diagnosis/speaker/rollOff.js';
import { pow2 } from '../elementary/exponential.js';
import { log2 } from '../elementary/logarithm.js';
import { InputError } from '../inputError.js';
import { formatFrequency } from '../units/formatFrequency.js';
import type { Warning } from '../warning.js';
import { liftedCorner, type MeasuredCorner, measuredCorner, ownCorner } from './speakerCorner.js';
import type { TrustedSpan } from './trustedSpan.js';

const AUDIBLE: FrequencyRange = { fromHz: 20, toHz: 20000 };
/** Close to half the sample rate the bilinear transform squeezes every filter shape. */
const SHARE_OF_NYQUIST = 0.9;
const NARROWEST_OCTAVES = 1 / 3;
/** What is known so far up is known far enough. */
const NEARLY_ALL = 0.95;
/** The measurement may reach this far beyond the first and the last point of the grid that it was brought onto. */
const GRID_STEP = pow2(1 / 48) * 1.001;

export interface ChosenRange {
  readonly range: FrequencyRange;
  /**
   * The speaker's lower corner: as measured, or its own where the walls of the set-up make it seem clearly lower; absent
   * where the data do not show one.
   */
  readonly cornerHz?: number;
  /** The box that this corner was read from. */
  readonly rollOff?: RollOff;
  /**
   * Below this nothing is boosted: the corner, also where it lies above the lower end of the range, or the lower end asked
   * for where that lies lower; without either, where the data begin, unless that is the end of the audible band.
   */
  readonly boostFromHz?: number;
  /** The end lies where the measurement stops being trusted: of what lies beyond nothing is known. */
  readonly unknownBelow: boolean;
  readonly unknownAbove: boolean;
  /** One or two sentences: what the ends were taken from. */
  readonly explanation: string;
  readonly warnings: readonly Warning[];
}

/**
 * The span to be corrected: what the user gives, else where the speaker plays, kept inside the data, the audible band
 * and the sample rate. Where the data show the speaker's low-frequency fall, the span begins at the corner (3 dB down)
 * of the box fitted to it and not where it is 10 dB down: between the two EQ could only buy level with excursion.
 * Walls lift the bass, so where a set-up shows the speaker's own corner to lie higher, nothing is boosted below that one.
 * It never leaves the span in which the measurement is to be trusted.
 *
 * @throws InputError where what the user gives leaves the data or is too narrow
 */
export function chooseRange(
  curve: Curve,
  asked: { readonly fromHz?: number; readonly toHz?: number; readonly setup?: Setup },
  sampleRateHz: number,
  trust?: TrustedSpan,
): ChosenRange {
  const data = { fromHz: curve.frequencyHz[0]!, toHz: curve.frequencyHz.at(-1)! };
  const found = workingRange(curve);
  const measured = knownCorner(measuredCorner(curve, found, trust), trust);
  const corner = measured?.hz;
  const own = ownCorner(curve, corner, asked.setup, trust);
  const ceilingHz = (SHARE_OF_NYQUIST * sampleRateHz) / 2;
  checkInside('--from', asked.fromHz, data);
  checkInside('--to', asked.toHz, data);
  const wanted = {
    fromHz: Math.max(asked.fromHz ?? Math.max(corner ?? found.range.fromHz, AUDIBLE.fromHz), data.fromHz),
    toHz: Math.min(asked.toHz ?? Math.min(found.range.toHz, AUDIBLE.toHz), data.toHz, ceilingHz),
  };
  const range = {
    fromHz: Math.max(wanted.fromHz, trust?.fromHz ?? 0),
    toHz: Math.min(wanted.toHz, trust?.toHz ?? Number.POSITIVE_INFINITY),
  };
  const unknownBelow = range.fromHz > wanted.fromHz;
  const unknownAbove = range.toHz < wanted.toHz;
  if (!(log2(range.toHz / range.fromHz) >= NARROWEST_OCTAVES)) {
    throw new InputError(
      `the range must span at least a third of an octave; found ${formatFrequency(range.fromHz)} to ` +
        `${formatFrequency(range.toHz)} (${spanName(trust)}: ${formatFrequency(trust?.fromHz ?? data.fromHz)} to ` +
        `${formatFrequency(trust ? Math.min(trust.toHz, data.toHz) : data.toHz)})${perhapsKilohertz(data.toHz)}`,
    );
  }
  const endsInData = corner === undefined && isCutBelow(asked, found, data);
  const measuredEndHz =
    unknownBelow || endsInData
      ? range.fromHz
      : corner === undefined
        ? undefined
        : Math.min(corner, range.fromHz);
  const boostFromHz = own
    ? Math.max(measuredEndHz ?? 0, asked.fromHz === undefined ? own.hz : Math.min(own.hz, range.fromHz))
    : measuredEndHz;
  const cornerHz = own?.hz ?? corner;
  const { rollOff } = own ?? measured ?? {};
  return {
    range,
    ...(cornerHz !== undefined && { cornerHz }),
    ...(rollOff && { rollOff }),
    ...(boostFromHz !== undefined && { boostFromHz }),
    unknownBelow,
    unknownAbove,
    explanation: explain(asked, found, corner, range, { unknownBelow, unknownAbove }),
    warnings: [
      ...cutByTrust(trust, range, { unknownBelow, unknownAbove }),
      ...cutByData(asked, found, data, range),
      ...liftedCorner(own, corner, asked.fromHz),
      ...belowCorner(asked.fromHz, corner),
      ...cutBySampleRate(asked.toHz ?? Math.min(found.range.toHz, AUDIBLE.toHz), ceilingHz, sampleRateHz),
    ],
  };
}

/** A fall below what is resolved and clear of noise is no corner of the speaker's. */
function knownCorner(
  corner: MeasuredCorner | undefined,
  trust: TrustedSpan | undefined,
): MeasuredCorner | undefined {
  return corner && corner.hz >= (trust?.fromHz ?? 0) ? corner : undefined;
}

const spanName = (trust: TrustedSpan | undefined) => (trust ? 'what is resolved and clear of noise' : 'data');

interface UnknownEnds {
  readonly unknownBelow: boolean;
  readonly unknownAbove: boolean;
}

/** A curve may have its next point up to this much above what is resolved. */
const NEXT_POINT = pow2(1 / 24);

function cutByTrust(
  trust: TrustedSpan | undefined,
  range: FrequencyRange,
  { unknownBelow, unknownAbove }: UnknownEnds,
): Warning[] {
  const byGate = trust && range.fromHz <= trust.resolvedFromHz * NEXT_POINT;
  const warnings: Warning[] = [];
  if (unknownBelow && byGate)
    warnings.push({
      code: 'range-cut-by-gate',
      message:
        `The range begins at ${formatFrequency(range.fromHz)}: the gate, or the recording, is too short to resolve ` +
        'anything below, so nothing is judged or fitted there. A longer gate reaches lower, but lets reflections in.',
      frequencyHz: range.fromHz,
    });
  const { swept } = trust ?? {};
  const lowBySweep = unknownBelow && !byGate && swept !== undefined && range.fromHz <= swept.fromHz;
  const highBySweep = unknownAbove && swept !== undefined && range.toHz >= swept.toHz;
  // A sweep at a sample rate of 44.1 kHz ends there by itself.
  const nearlyAll = swept !== undefined && swept.toHz >= NEARLY_ALL * AUDIBLE.toHz;
  if (lowBySweep || (highBySweep && !nearlyAll))
    warnings.push({
      code: 'range-cut-by-sweep',
      message:
        `The sweep went from ${formatFrequency(swept.fromHz)} to ${formatFrequency(swept.toHz)}: nothing is known, judged or ` +
        'fitted beyond. If the speaker plays farther, measure with a wider sweep (within what its maker allows).',
      frequencyHz: lowBySweep ? range.fromHz : range.toHz,
    });
  const noisy = [
    ...(unknownBelow && !byGate && !lowBySweep ? [`below ${formatFrequency(range.fromHz)}`] : []),
    ...(unknownAbove && !highBySweep ? [`above ${formatFrequency(range.toHz)}`] : []),
  ];
  if (noisy.length > 0)
    warnings.push({
      code: 'range-cut-by-noise',
      message:
        `The measurement is less than 10 dB above its noise ${noisy.join(' and ')}: nothing is judged or fitted ` +
        'there. A quieter room, a longer sweep or more level (within what the speaker stands) would help.',
      frequencyHz: unknownBelow && !byGate && !lowBySweep ? range.fromHz : range.toHz,
    });
  return warnings;
}

function explain(
  asked: { readonly fromHz?: number; readonly toHz?: number },
  found: ReturnType<typeof workingRange>,
  corner: number | undefined,
  range: FrequencyRange,
  { unknownBelow, unknownAbove }: UnknownEnds,
): string {
  const low = unknownBelow
    ? 'its lower end where the measurement begins to be trusted'
    : asked.fromHz !== undefined
      ? 'its lower end as asked'
      : corner !== undefined && found.cornerHz !== undefined
        ? `its lower end at the speaker's corner (3 dB down; 10 dB down at ${formatFrequency(found.cornerHz)})`
        : 'its lower end where the data or the audible band end';
  const high = unknownAbove
    ? 'its upper end where the measurement stops being trusted'
    : asked.toHz !== undefined
      ? 'its upper end as asked'
      : found.highCutByData || range.toHz < found.range.toHz * 0.99
        ? 'its upper end where the data, the audible band or the sample rate end'
        : 'its upper end where the curve falls for good 10 dB below the mid band';
  return `Range ${formatFrequency(range.fromHz)} to ${formatFrequency(range.toHz)}: ${low}, ${high}.`;
}

function checkInside(option: string, hz: number | undefined, data: FrequencyRange): void {
  if (hz === undefined || (hz >= data.fromHz / GRID_STEP && hz <= data.toHz * GRID_STEP)) return;
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
  const low = isCutBelow(asked, found, data);
  const high = asked.toHz === undefined && found.highCutByData && data.toHz < AUDIBLE.toHz * NEARLY_ALL;
  if (!low && !high) return [];
  const ends = [
    ...(low ? [`below ${formatFrequency(range.fromHz)}`] : []),
    ...(high ? [`above ${formatFrequency(range.toHz)}`] : []),
  ];
  return [
    {
      code: 'range-cut-by-data',
      message:
        `The data end before the speaker does: nothing is known, judged or fitted ${ends.join(' and ')}` +
        `${low ? `, nor boosted below ${formatFrequency(range.fromHz)}` : ''}. ` +
        'Measure over a wider span, or set the range yourself to say that this is meant.',
    },
  ];
}

/** The data begin above the audible band, and nobody said that they are meant to. */
function isCutBelow(
  asked: { readonly fromHz?: number },
  found: ReturnType<typeof workingRange>,
  data: FrequencyRange,
): boolean {
  return asked.fromHz === undefined && found.lowCutByData && data.fromHz > AUDIBLE.fromHz * 1.05;
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

/** No speaker is measured in infrasound alone. */
function perhapsKilohertz(endsAtHz: number): string {
  return endsAtHz > 50
    ? ''
    : '; if the frequencies are in kHz, name their column "frequency (kHz)" in a heading line';
}

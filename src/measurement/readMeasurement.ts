import type { FrequencyRange } from '../curve/curve.js';
import { analyseImpulse, type GateChoice } from '../impulse/analyseImpulse.js';
import { laterSound } from '../impulse/arrivals/laterSound.js';
import type { Paths } from '../impulse/arrivals/paths.js';
import type { ImpulseResponse } from '../impulse/samples/impulseResponse.js';
import { InputError } from '../inputError.js';
import { inChannel } from './inChannel.js';
import type { Measurement } from './measurement.js';
import { readImpulse } from './readImpulse.js';
import { readMeasurementText } from './readMeasurementText.js';

/** A gate that resolves nothing below this tells of no dip that a diagnosis is about. */
const DIRECT_FROM_AT_MOST_HZ = 1000;

/** Stronger reflections are looked for in the curve as well; where one is, quiet around a dip says nothing of those that come sooner. */
const STRONG_DB = -20;

/** How a WAV file is made into a curve; no matter for text. */
export interface MeasurementReading {
  /** `none` unless given: a correction is for what reaches the listener, room and all. */
  readonly gate?: GateChoice;
  /** Counted from 1; the first unless given. */
  readonly channel?: number;
}

/**
 * A measurement from a file of either kind: rows of text, or an impulse response as WAV.
 *
 * @param bytes the whole file
 * @param fileName as it shall stand in messages; one that ends in .wav is held to be a WAV file
 * @throws InputError saying what was found and what was expected
 */
export function readMeasurement(
  bytes: Uint8Array,
  fileName: string,
  reading: MeasurementReading = {},
): Measurement {
  if (isWav(bytes, fileName)) return readMeasurementWav(bytes, fileName, reading);
  const measurement = readMeasurementText(bytes, fileName);
  return { ...measurement, ...statedTrust(measurement.comments) };
}

function isWav(bytes: Uint8Array, fileName: string): boolean {
  const head = String.fromCharCode(...bytes.subarray(0, 4));
  return ['RIFF', 'RF64', 'BW64', 'RIFX'].includes(head) || /\.wav$/i.test(fileName);
}

function readMeasurementWav(
  bytes: Uint8Array,
  fileName: string,
  { gate = 'none', channel: channelNumber }: MeasurementReading,
): Measurement {
  const { impulse, warnings, channel } = readImpulse(bytes, fileName, channelNumber);
  const analysis = inChannel(channel, () => trustedAnalysis(impulse, gate));
  return {
    fileName,
    curve: analysis.curve,
    comments: [],
    rows: impulse.samples.length,
    warnings: [
      ...warnings,
      ...analysis.warnings.map((warning) => ({ ...warning, message: `${fileName}: ${warning.message}` })),
    ],
    resolvedFromHz: analysis.resolvedFromHz,
    kept: { afterS: analysis.gate.afterS, fades: analysis.isGated },
    trusted: analysis.trustedRange,
    ...(impulse.swept && { swept: impulse.swept }),
    reflections: analysis.reflections,
    ...(gate === 'none' && { ...directPart(impulse, analysis), ...laterPart(impulse, analysis) }),
  };
}

function trustedAnalysis(impulse: ImpulseResponse, gate: GateChoice) {
  const { trustedRange, ...analysis } = analyseImpulse(impulse, { gate });
  if (trustedRange) return { ...analysis, trustedRange };
  throw new InputError(
    'found no frequency at which the response is resolved and 10 dB above the noise, expected at least a third of an octave',
  );
}

/** The direct sound alone, where a reflection strong enough to gate off follows it. */
function directPart(impulse: ImpulseResponse, paths: Paths): Pick<Measurement, 'direct'> {
  const { curve, gate, resolvedFromHz, reflections } = analyseImpulse(impulse, {
    gate: 'auto',
    paths,
  });
  const gated = reflections.some(({ delayS }) => delayS >= gate.afterS);
  return gated && resolvedFromHz < DIRECT_FROM_AT_MOST_HZ ? { direct: { curve, resolvedFromHz } } : {};
}

/** What follows the direct sound, where no reflection is strong enough to be looked for in the curve. */
function laterPart(
  impulse: ImpulseResponse,
  { reflections, arrivalS }: Paths,
): Pick<Measurement, 'laterSound'> {
  const isStrong = reflections.some(({ levelDb }) => levelDb > STRONG_DB);
  return isStrong ? {} : { laterSound: laterSound(impulse, arrivalS) };
}

/** What a measurement that we wrote ourselves says of its limits. */
function statedTrust(
  comments: readonly string[],
): Pick<Measurement, 'kept' | 'swept'> & { resolvedFromHz?: number; trusted?: FrequencyRange } {
  const found = (pattern: RegExp) =>
    comments.map((line) => pattern.exec(line)).find((match) => match !== null);
  const resolved = found(/^resolved from: ([\d.]+) Hz$/);
  const isGated = found(/^gate: \S+ m?s before to \S+ m?s after the direct sound/) && !found(/^gated above /);
  const trusted = found(/^trusted: ([\d.]+) to ([\d.]+) Hz$/);
  const sweep = found(/^swept: ([\d.]+) to ([\d.]+) Hz$/);
  const swept = sweep && { fromHz: Number(sweep[1]), toHz: Number(sweep[2]) };
  const range = trusted && { fromHz: Number(trusted[1]), toHz: Number(trusted[2]) };
  return {
    ...(resolved && Number(resolved[1]) > 0 && { resolvedFromHz: Number(resolved[1]) }),
    ...(isGated &&
      resolved &&
      Number(resolved[1]) > 0 && { kept: { afterS: 1 / Number(resolved[1]), fades: true } }),
    ...(range && range.fromHz > 0 && range.fromHz < range.toHz && { trusted: range }),
    ...(swept && swept.fromHz < swept.toHz && { swept }),
  };
}

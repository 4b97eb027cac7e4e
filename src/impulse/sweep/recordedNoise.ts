import { log10 } from '../../elementary/logarithm.js';
import { pow10 } from '../../elementary/power.js';
import { upperMedian } from '../../elementary/upperMedian.js';
import { powerOfTwoAtLeast, realFft } from '../samples/fft.js';
import type { ImpulseResponse } from '../samples/impulseResponse.js';
import { meanBetween, type PowerDensity, powerDensity, powerOf } from '../samples/powerDensity.js';
import { sweepLength } from './exponentialSweep.js';
import { inverseSweepParameters, type SweepParameters } from './sweepParameters.js';

/** The sound of a sweep may come a little before its strongest path does. */
const CLEARANCE_S = 0.02;
/** After the end of the sweep the room has to fall silent first. */
const DECAY_S = 1;
const SHORTEST_S = 0.1;
const LONGEST_S = 5;
/** Quieter than this beside the peak is a recorder's gate and no room. */
const SILENT = 1e-10;

/** What a recording of a sweep holds where the sweep does not sound. */
export interface RecordedNoise {
  readonly stretches: readonly PowerDensity[];
}

/**
 * @param part the recording, or the stretch of it around the sweep
 * @param start sample at which the sweep begins there
 * @returns undefined where there is no silence to take it from
 */
export function recordedNoise(
  part: Float64Array,
  start: number,
  parameters: SweepParameters,
): RecordedNoise | undefined {
  const { sampleRateHz } = parameters;
  const samplesIn = (s: number) => Math.round(s * sampleRateHz);
  const peak = part.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
  const before = Math.max(0, start - samplesIn(CLEARANCE_S));
  const after = Math.min(part.length, start + sweepLength(parameters) + samplesIn(DECAY_S));
  const stretches = [
    part.subarray(Math.max(0, before - samplesIn(LONGEST_S)), before),
    part.subarray(after, after + samplesIn(LONGEST_S)),
  ]
    .filter((s) => s.length >= samplesIn(SHORTEST_S) && s.some((v) => Math.abs(v) > SILENT * peak))
    .map((s) => powerDensity(s, sampleRateHz));
  return stretches.length > 0 ? { stretches } : undefined;
}

/** Power of the noise around a frequency, per sample of the recording: that of the quieter stretch. */
export const noiseAround = ({ stretches }: RecordedNoise, fromHz: number, toHz: number): number =>
  Math.min(...stretches.map(({ power, stepHz }) => meanBetween(power, stepHz, fromHz, toHz)));

/**
 * What deconvolution makes of power in the recording: |1/X(f)|² = 4f/(A²·fs²·L), by stationary phase. (Farina 2000.)
 */
export function inversePower(parameters: SweepParameters, frequencyHz: number): number {
  const { sampleRateHz, levelDb } = parameters;
  const { timeConstantS } = inverseSweepParameters(parameters);
  return (4 * frequencyHz) / (pow10(levelDb / 10) * sampleRateHz ** 2 * timeConstantS);
}

export interface RecordedOctave {
  readonly centreHz: number;
  readonly signalToNoiseDb: number;
}

const MOST_DB = 200;

export interface BesideNoise {
  /** Of all of the impulse response. */
  readonly octaves: readonly RecordedOctave[];
  readonly hum?: Hum;
}

/** How the impulse response that a recording gave stands beside the noise in it. */
export function besideNoise(
  { samples, sampleRateHz }: ImpulseResponse,
  noise: RecordedNoise,
  parameters: SweepParameters,
): BesideNoise {
  const size = powerOfTwoAtLeast(samples.length);
  const power = powerOf(realFft(samples, size).bins);
  const response = { power, stepHz: sampleRateHz / size, count: samples.length };
  const hum = humIn(response, noise, parameters);
  return { octaves: octavesOverNoise(response, noise, parameters), ...(hum && { hum }) };
}

type ResponsePower = Pick<PowerDensity, 'power' | 'stepHz' | 'count'>;

function octavesOverNoise(
  response: ResponsePower,
  noise: RecordedNoise,
  parameters: SweepParameters,
): RecordedOctave[] {
  const octaves: RecordedOctave[] = [];
  for (let centreHz = 31.25; centreHz <= parameters.toHz; centreHz *= 2) {
    const fromHz = centreHz / Math.SQRT2;
    const toHz = Math.min(centreHz * Math.SQRT2, parameters.toHz);
    if (fromHz < parameters.fromHz) continue;
    const withNoise = meanBetween(response.power, response.stepHz, fromHz, toHz);
    const through =
      response.count * noiseAround(noise, fromHz, toHz) * inversePower(parameters, Math.sqrt(fromHz * toHz));
    // Once it is down in the noise the sum tells nothing; 30 dB below it is written then.
    const ratio = Math.max(withNoise - through, 1e-3 * withNoise) / through;
    const db = through > 0 && ratio > 0 ? 10 * log10(ratio) : MOST_DB * (through > 0 ? -1 : 1);
    octaves.push({ centreHz, signalToNoiseDb: Math.min(MOST_DB, db) });
  }
  return octaves;
}

export interface Hum {
  readonly linesHz: readonly number[];
  /** The most that it lifts the curve by where it falls in with the sound. */
  readonly liftDb: number;
}

const MAINS_HZ = [50, 60];
const MOST_LINES = 8;
/** The line of a Hann window is then narrower than the gap to the next. */
const PERIODS_TO_TELL = 10;
/** Noise alone has no bin that stands out of the median by as much. */
const STANDS_OUT = 40;
/** Of the level that the speaker gives there: what changes the curve by a good 0.8 dB. */
const LEAST_RATIO_DB = -20;

/** Mains hum that is strong enough beside the response to show in it as narrow peaks. */
function humIn(
  response: ResponsePower,
  { stretches }: RecordedNoise,
  parameters: SweepParameters,
): Hum | undefined {
  const longest = stretches.reduce((best, s) => (s.count > best.count ? s : best));
  const found = MAINS_HZ.map((mains) => {
    const multiples = Array.from({ length: MOST_LINES }, (_, i) => (i + 1) * mains);
    const lines = multiples.flatMap((hz) => {
      if (hz < parameters.fromHz || hz > parameters.toHz) return [];
      const line = linePower(longest, hz, mains);
      if (line === undefined) return [];
      // A tone of amplitude a has a²·n/6 in a Hann window's density, and a·M/2 in the spectrum of M samples.
      const amplitude = Math.sqrt((6 * line) / longest.count);
      const tone = ((amplitude * response.count) / 2) ** 2 * inversePower(parameters, hz);
      const speaker = medianBetween(response.power, response.stepHz, hz / 1.15, hz * 1.15);
      return [{ hz, ratioDb: 10 * log10(tone / speaker) }];
    });
    return { lines, total: lines.reduce((sum, { ratioDb }) => sum + pow10(ratioDb / 10), 0) };
  });
  const { lines } = found.reduce((best, each) => (each.total > best.total ? each : best));
  const heard = lines.filter(({ ratioDb }) => ratioDb >= LEAST_RATIO_DB);
  if (heard.length === 0) return undefined;
  const worst = heard.reduce((most, { ratioDb }) => Math.max(most, ratioDb), Number.NEGATIVE_INFINITY);
  return { linesHz: heard.map(({ hz }) => hz), liftDb: 20 * log10(1 + pow10(worst / 20)) };
}

/** Power density at a line, where one stands out of what lies between it and its neighbours. */
function linePower({ power, stepHz, count }: PowerDensity, hz: number, mains: number): number | undefined {
  const lastedS = count / (2 * (power.length - 1) * stepHz);
  if (lastedS < PERIODS_TO_TELL / mains) return undefined;
  const around = [-1, 0, 1].map((k) => power[Math.round(hz / stepHz) + k] ?? 0);
  const line = Math.max(...around);
  return line > STANDS_OUT * medianBetween(power, stepHz, hz - 0.45 * mains, hz + 0.45 * mains)
    ? line
    : undefined;
}

function medianBetween(power: Float64Array, stepHz: number, fromHz: number, toHz: number): number {
  return upperMedian(power.subarray(Math.max(1, Math.ceil(fromHz / stepHz)), Math.floor(toHz / stepHz) + 1));
}

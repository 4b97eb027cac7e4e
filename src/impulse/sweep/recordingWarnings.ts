import { pow10 } from '../../elementary/power.js';
import type { Warning } from '../../warning.js';
import type { Clipping } from '../samples/clipping.js';
import type { Disturbance } from './disturbance.js';
import type { HarmonicDistortion } from './harmonicDistortion.js';
import type { Hum, RecordedOctave } from './recordedNoise.js';
import type { SweepBreak } from './sweepBreak.js';
import type { SweepTiming } from './sweepTiming.js';

export interface RecordingFaults {
  readonly clipping?: Clipping;
  /** Of the energy near the peak, where it is less than any impulse response has. */
  readonly spreadShare?: number;
  readonly timing?: SweepTiming;
  readonly octaves?: readonly RecordedOctave[];
  readonly hum?: Hum;
  readonly disturbance?: Disturbance;
  /** From the start of the recording. */
  readonly broken?: SweepBreak;
  readonly harmonics: readonly HarmonicDistortion[];
  /** How much was recorded after the sweep, and how much of it is wanted. */
  readonly followsS: number;
  readonly wantedS: number;
}

/** As far above the noise the curve is trusted. */
const TRUSTED_DB = 10;

/** What is wrong with a recording of a sweep, and what to do about it. */
export function recordingWarnings(faults: RecordingFaults): Warning[] {
  const { clipping, timing, octaves = [], hum, disturbance, followsS, wantedS } = faults;
  const found: Warning[] = [];
  const warn = (code: string, message: string) => found.push({ code, message });
  if (clipping)
    warn(
      'recording-clipped',
      `The recording is cut off at its peak (${clipping.count} flat tops at ${clipping.level.toFixed(3)} of full scale). ` +
        'Record again with less input gain; response and distortion are wrong as they are.',
    );
  found.push(...matchWarnings(faults));
  const noisy = octaves.filter(({ signalToNoiseDb }) => signalToNoiseDb < TRUSTED_DB);
  if (noisy.length > 0)
    warn(
      'low-signal-to-noise',
      `Less than ${TRUSTED_DB} dB above the noise in the octaves around ${noisy.map(({ centreHz }) => hertz(centreHz)).join(', ')}, over all ` +
        'of the response; a gate lets less noise through. A quieter room, a longer sweep or more level (within what the ' +
        'speaker stands) would help.',
    );
  if (hum)
    warn(
      'hum',
      `Mains hum at ${hum.linesHz.join(', ')} Hz is in the recording and can move the curve there by up to ` +
        `${hum.liftDb.toFixed(1)} dB, as a narrow peak or dip that no speaker makes. Look for a loop of earth ` +
        'connections or a cable beside a power supply; a longer sweep or more level helps too.',
    );
  // In a response to another sweep nothing is where it belongs, and clipping folds its harmonics into any octave.
  if (disturbance && !timing && !clipping)
    warn(
      'recording-disturbed',
      `A noise ${disturbance.atS.toFixed(2)} s after the start of the recording (a knock, a step, a voice) comes to ` +
        `${disturbance.levelDb.toFixed(0)} dB beside the sweep around ${hertz(disturbance.octaveHz)}. It spreads over the response ` +
        'and may look like late sound or like a harmonic: record again.',
    );
  found.push(...brokenWarnings(faults));
  // Clipping makes harmonics by itself.
  if (!clipping && !timing) found.push(...drivenTooHard(faults));
  if (followsS < wantedS)
    warn(
      'recording-ends-early',
      `Only ${seconds(Math.max(0, followsS))} were recorded after the sweep; the end of the response ` +
        'is missing. Let the recording run on until the room is silent.',
    );
  return found;
}

function matchWarnings({ spreadShare, timing, octaves, disturbance }: RecordingFaults): Warning[] {
  if (spreadShare !== undefined && !timing) {
    const isNoise = octaves?.some(({ signalToNoiseDb }) => signalToNoiseDb < TRUSTED_DB);
    const why = disturbance
      ? 'another noise fills the rest.'
      : isNoise
        ? 'the noise drowns it. Keep less of it (--response "500 ms"), bring the microphone nearer, or play longer or louder (within what the speaker stands).'
        : 'this is not the sweep that was told of, or noise drowns it. Check the length and both ends of the sweep.';
    return [
      {
        code: 'no-clear-response',
        message:
          `Only ${Math.round(100 * spreadShare)} % of the response lies within a quarter of a second of its peak: ${why} ` +
          'As it is, it is refused as an impulse response.',
      },
    ];
  }
  if (!timing) return [];
  const { longerBy, spreadS } = timing;
  const share = Math.abs(100 * longerBy);
  return [
    {
      code: 'sweep-does-not-match',
      message:
        `The treble comes ${Math.abs(1000 * spreadS).toFixed(1)} ms ${spreadS > 0 ? 'later' : 'earlier'} than the bass, evenly over the octaves: ` +
        `the recorded sweep is about ${Number(share.toPrecision(2))} % ${longerBy > 0 ? 'longer' : 'shorter'} than the one that was told of. ` +
        (share > 0.1
          ? 'Check its length and both ends; '
          : 'The clocks of player and recorder run apart: use one device for both; ') +
        'phase, delays and the gated curve are wrong as they are.',
    },
  ];
}

/** What clips, is another sweep or has a noise in it is broken for that reason, which is told of already. */
function brokenWarnings({ broken, clipping, timing, spreadShare, disturbance }: RecordingFaults): Warning[] {
  if (!broken || clipping || timing || disturbance || spreadShare !== undefined) return [];
  const { atS, frequencyHz, levelDb } = broken;
  return [
    {
      code: 'sweep-broken',
      message:
        `Around ${hertz(frequencyHz)} sound of ${levelDb.toFixed(0)} dB comes before the direct sound, which no speaker makes: about ` +
        `${atS.toFixed(1)} s after the start of the recording samples were lost (a buffer that ran empty), the level changed ` +
        'by itself (automatic gain, noise suppression, a limiter), or a noise broke in. The curve there is wrong, and by ' +
        'as much as the level changed all above it: record again.',
      frequencyHz,
    },
  ];
}

/** A tenth of the tone, which is common practice, no published source. */
const TOO_MUCH_DB = -20;
const OVER_NOISE_DB = 6;
/** A third of an octave, at 24 points each. */
const FEWEST_POINTS = 8;

function drivenTooHard({ harmonics, disturbance }: RecordingFaults): Warning[] {
  let worst: { order: number; db: number; fromHz: number; toHz: number } | undefined;
  for (const { order, curve, relativeDb, noiseDb } of harmonics) {
    if (!noiseDb) continue;
    const isTooMuch = Array.from(
      relativeDb,
      (db, i) => db >= TOO_MUCH_DB && db >= noiseDb[i]! + OVER_NOISE_DB,
    );
    for (let from = 0; from < isTooMuch.length; from++) {
      if (!isTooMuch[from]) continue;
      const end = isTooMuch.indexOf(false, from);
      const to = end < 0 ? isTooMuch.length : end;
      const db = Math.max(...relativeDb.subarray(from, to));
      if (to - from >= FEWEST_POINTS && db > (worst?.db ?? Number.NEGATIVE_INFINITY))
        worst = { order, db, fromHz: curve.frequencyHz[from]!, toHz: curve.frequencyHz[to - 1]! };
      from = to;
    }
  }
  if (!worst) return [];
  return [
    {
      code: 'driven-too-hard',
      message:
        `Harmonic ${worst.order} reaches ${Math.round(100 * pow10(worst.db / 20))} % of the tone between ${hertz(worst.fromHz)} and ` +
        `${hertz(worst.toHz)}: the speaker, its amplifier or the input is driven harder than it can follow. Sweep again at less ` +
        `level; in the bass let the sweep start higher. A boost there would make it worse.${
          disturbance ? ' (Or it is the noise that broke in.)' : ''
        }`,
      frequencyHz: Math.sqrt(worst.fromHz * worst.toHz),
    },
  ];
}

const hertz = (hz: number): string => `${Number(hz.toPrecision(3))} Hz`;
export const seconds = (s: number): string => `${Number(s.toPrecision(3))} s`;

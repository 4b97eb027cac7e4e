import { log10 } from '../../elementary/logarithm.js';
import { pow10 } from '../../elementary/power.js';
import { delayBehindMinimumPhase } from '../phase/delayBehindMinimumPhase.js';
import type { ImpulseResponse } from '../samples/impulseResponse.js';
import { arrivals, type PathArrival } from './arrivals.js';

/** Sound that came another way, later than the direct sound. */
export interface Reflection {
  readonly delayS: number;
  /** Relative to the direct sound, over the whole band. */
  readonly levelDb: number;
  readonly pathDifferenceM: number;
  /** How far it stands out of the mean energy of the 3 ms around it. */
  readonly contrastDb: number;
}

export interface Paths {
  /** When the direct sound came, from the start of the impulse response, to a fraction of a sample. */
  readonly arrivalS: number;
  /** In order of delay. */
  readonly reflections: readonly Reflection[];
}

export interface PathOptions {
  /** At the temperature of the room; 343.2 m/s (20 °C, ISO 9613-1) unless given. */
  readonly speedOfSoundMPerS?: number;
  readonly weakestDb?: number;
  readonly atMost?: number;
}

/** The first arrival within this much of the strongest is the direct sound: it may be weaker than a reflection. */
const directWithinDb = 12;
/** Arrivals closer together than this are one to begin with: the strongest of them. */
const togetherS = 0.3e-3;
/** Less than this after the direct sound a pulse cannot be told from it. */
const earliestS = 0.1e-3;
/** A crossover's and a cabinet's own late sound follows the direct sound pulse on pulse, at most this far apart, … */
const smearStepS = 0.1e-3;
/** … for no longer than this, … */
const smearEndS = 0.5e-3;
/** … and does not rise again by more than this over what came just before. */
const smearRiseDb = 3;
const smearMemoryS = 0.15e-3;
const latestS = 0.1;
/** What lies further than this below the mean energy around it is no path of its own. */
const leastContrastDb = -8;
/** How much more a reflection must stand out to be listed for each millisecond that it comes later. */
const latenessDbPerMs = 0.4;
const companionDb = 6;
/** What is so close to a reflection, and so much weaker, is what its pulse leaves behind where it is no exact copy. */
const remnantS = 0.2e-3;
const remnantDb = 8;

/**
 * The direct sound and the reflections in an impulse response.
 *
 * Where there are more than `atMost` reflections above `weakestDb` (the reverberation of a room is nothing else),
 * those are listed that stand out: by level and by contrast with what surrounds them, the early before the late,
 * and the strongest of several close together before its companions.
 */
export function findPaths(impulse: ImpulseResponse, options: PathOptions = {}): Paths {
  const { speedOfSoundMPerS = 343.2, weakestDb = -28, atMost = 40 } = options;
  const { sampleRateHz } = impulse;
  const found = arrivals(impulse);
  const direct = directArrival(found, sampleRateHz);
  if (!direct) return { arrivalS: 0, reflections: [] };
  const reflections = found
    .map((path) => {
      const delayS = (path.position - direct.position) / sampleRateHz;
      return {
        delayS,
        levelDb: 20 * log10(path.height / direct.height),
        pathDifferenceM: delayS * speedOfSoundMPerS,
        contrastDb: path.contrastDb,
      };
    })
    .filter((r) => r.delayS > earliestS && r.delayS < latestS && r.levelDb >= weakestDb)
    .filter(notOfTheSpeaker())
    .filter(noRemnant)
    .filter(({ contrastDb }) => contrastDb >= leastContrastDb);
  const position = delayBehindMinimumPhase(impulse, direct.position) ?? direct.position;
  return {
    arrivalS: position / sampleRateHz,
    reflections: outstanding(reflections, atMost).sort((a, b) => a.delayS - b.delayS),
  };
}

function directArrival(found: readonly PathArrival[], sampleRateHz: number): PathArrival | undefined {
  const strongest = found.reduce((most, { height }) => Math.max(most, height), 0);
  const first = found.find(({ height }) => height >= strongest * pow10(-directWithinDb / 20));
  if (!first) return undefined;
  const until = first.position + togetherS * sampleRateHz;
  return found
    .filter(({ position }) => position >= first.position && position <= until)
    .reduce((best, path) => (path.height > best.height ? path : best));
}

/** For a list in order of delay: leaves out what follows the direct sound without a gap and without rising again. */
function notOfTheSpeaker(): (reflection: Reflection) => boolean {
  const direct = { delayS: 0, levelDb: 0 };
  let chain = [direct];
  let lastS = earliestS;
  let chained = true;
  return (reflection) => {
    const { delayS, levelDb } = reflection;
    const recent = chain.filter((r) => delayS - r.delayS <= smearMemoryS);
    const before = recent.reduce((most, r) => Math.max(most, r.levelDb), Number.NEGATIVE_INFINITY);
    chained &&= delayS - lastS <= smearStepS && delayS <= smearEndS && levelDb <= before + smearRiseDb;
    lastS = delayS;
    chain = [...recent, reflection];
    return !chained;
  };
}

function noRemnant({ delayS, levelDb }: Reflection, _: number, all: readonly Reflection[]): boolean {
  return !all.some((r) => Math.abs(r.delayS - delayS) < remnantS && r.levelDb >= levelDb + remnantDb);
}

function outstanding(reflections: readonly Reflection[], atMost: number): Reflection[] {
  return reflections
    .map((reflection) => {
      const companion = reflections.some(
        ({ delayS, levelDb }) =>
          Math.abs(delayS - reflection.delayS) < togetherS && levelDb > reflection.levelDb,
      );
      const score =
        (reflection.levelDb + reflection.contrastDb) / 2 -
        latenessDbPerMs * 1000 * reflection.delayS -
        (companion ? companionDb : 0);
      return { reflection, score };
    })
    .sort((a, b) => b.score - a.score)
    .slice(0, atMost)
    .map(({ reflection }) => reflection);
}

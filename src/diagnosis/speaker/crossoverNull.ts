import { log2 } from '../../elementary/logarithm.js';
import { pow } from '../../elementary/power.js';
import { formatFrequency } from '../../units/formatFrequency.js';
import type { Feature } from '../features/detectFeatures.js';

/** Where small two-way speakers cross over, with room for unusual ones; common practice, no published source. */
const FROM_HZ = 800;
const TO_HZ = 6000;
/** Deeper than drivers merely out of step leave; an edge or a resonance seldom does. */
const LEAST_DEPTH_DB = 8;
/** How many times as wide as two such drivers alone a dip may be: sound from elsewhere fills flanks or bottom. */
const NARROWEST = 0.3;
const WIDEST = 1.5;

/** Whether a dip looks like two drivers that cancel at their crossover: one connected the wrong way round, or late. */
export function suitsCrossover({ frequencyHz, levelDb, widthOctaves }: Feature): boolean {
  const times = widthOctaves / crossoverWidthOctaves(-levelDb);
  return (
    -levelDb >= LEAST_DEPTH_DB &&
    frequencyHz >= FROM_HZ &&
    frequencyHz <= TO_HZ &&
    times >= NARROWEST &&
    times <= WIDEST
  );
}

/**
 * Width at half its depth of what drivers of fourth order in opposite polarity leave, filled up to a depth:
 * |1 − x⁴|/(1 + x⁴), x the frequency over the crossover's (Linkwitz, J. Audio Eng. Soc. 24 (1976) 2–8).
 */
export function crossoverWidthOctaves(depthDb: number): number {
  const left = pow(10, -depthDb / 40);
  return log2((1 + left) / (1 - left)) / 2;
}

export function crossoverSentence({ frequencyHz, levelDb, widthOctaves }: Feature): string {
  return `So deep (${(-levelDb).toFixed(1)} dB), ${widthOctaves.toFixed(2)} octave wide and at ${formatFrequency(frequencyHz)} it suits two drivers that cancel at their crossover: one in opposite polarity, or one that comes late.`;
}

/** For a dip laid to the placement that reflections as strong as they can be make only in part. */
export const CROSSOVER_POSSIBLE =
  'Reflections no stronger than they can be do not make all of it, and it is as deep, wide and high as two drivers that cancel at their crossover leave it (one in opposite polarity, or late): that may be the cause instead.';

const CHECK =
  "check the polarity, delay and crossover settings of both drivers against what the maker gives, and the wiring where it can be reached from outside; a cabinet with mains inside stays closed, that is the maker's or a licensed technician's work";

export const CROSSOVER_ADVICE = `Do not fill it: what cancels inside the speaker cancels a boost as well. At a possible crossover ${CHECK}. Measure at the height that the maker gives for listening, then measure again.`;

/** For a dip of which it is not known yet whether it stays with the speaker. */
export const CROSSOVER_IF_IT_STAYS = `If it stays, it may be two drivers that cancel at their crossover: ${CHECK}.`;

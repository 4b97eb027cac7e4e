import { nearestPlace } from '../../curve/nearestPlace.js';
import { atan2 } from '../../elementary/arctangent.js';
import { log, log2, log10 } from '../../elementary/logarithm.js';
import { pow10 } from '../../elementary/power.js';
import { formatFrequency } from '../../units/formatFrequency.js';
import { clip } from '../features/clip.js';
import type { Feature } from '../features/detectFeatures.js';
import type { Scene } from '../scene/scene.js';
import type { Evidence } from './evidence.js';

/** Halfway between what a dip needs of one echo and what one that the speaker rings with shows at most after 1.25 periods. */
const HALFWAY_DB = -6;
const SPAN_DB = 6;
const MOST = 4 / 3;
/** Shares of the width that the first null of an echo has, between which a dip passes from too narrow for it to wide enough. */
const TOO_NARROW = 0.6;
const WIDE_ENOUGH = 0.9;
/** No strong reflection was found over the whole band, so what is left is dull: weak from here upward. */
const DULL_FROM_HZ = 1000;
const MOST_OCTAVES = 2;

/**
 * What an impulse response in which no strong reflection was found has around a dip after the direct sound. An echo that
 * cancels comes half a period late, or one and a half, or later. The first makes a wide dip, and sound so close cannot be
 * told from the speaker's own. What makes a narrower one has to show as sound of its own, as strong as the dip asks for. A
 * speaker that rings around the dip is at least 9 dB weaker by then, however sharp it is.
 */
export function laterEvidence(dip: Feature, { input }: Scene): Evidence | undefined {
  const { laterSound } = input;
  if (!laterSound || dip.levelDb >= 0) return undefined;
  const { frequencyHz, levelDb } = laterSound;
  if (dip.frequencyHz < frequencyHz[0]! || dip.frequencyHz > frequencyHz.at(-1)!) return undefined;
  const foundDb = levelDb[nearestPlace(frequencyHz, dip.frequencyHz, log)]!;
  const neededDb = 20 * log10(1 - pow10(dip.levelDb / 20));
  const narrow = narrowness(dip);
  const strong = clip((foundDb - neededDb - HALFWAY_DB) / SPAN_DB, -MOST, MOST);
  const octaves = log2(dip.frequencyHz / DULL_FROM_HZ);
  const at = formatFrequency(dip.frequencyHz);
  const sentences = {
    seen: `Around ${at} sound of ${foundDb.toFixed(1)} dB relative to the direct sound follows it by more than 1.25 periods, though no strong reflection stands out over the whole band: so narrow a dip needs ${neededDb.toFixed(1)} dB, so later sound may well make it.`,
    absent: `No strong reflection was found in the impulse response, and around ${at} nothing later than 1.25 periods after the direct sound exceeds ${foundDb.toFixed(1)} dB relative to it; a reflection that makes so narrow a dip comes then, with ${neededDb.toFixed(1)} dB.`,
    early: `No strong reflection was found in the impulse response, but dull sound half a period after the direct sound makes a dip as wide as this at ${at} and cannot be told from the speaker's own there.`,
  };
  return {
    label: 'the sound after the direct',
    terms: [
      { name: 'laterThere', value: strong * narrow },
      { name: 'laterDull', value: clip(octaves, 0, MOST_OCTAVES) },
      { name: 'laterEarly', value: earlyOctaves(dip) },
    ],
    sentence: sentences[narrow < 0.5 ? 'early' : strong > 0 ? 'seen' : 'absent'],
  };
}

/** Octaves below 1 kHz, up to 2, of a dip so wide that dull sound half a period late, which shows in no impulse response, makes it too. */
export function earlyOctaves(dip: Pick<Feature, 'frequencyHz' | 'levelDb' | 'widthOctaves'>): number {
  return clip(-log2(dip.frequencyHz / DULL_FROM_HZ), 0, MOST_OCTAVES) * (1 - narrowness(dip));
}

/** 0 where a dip is as wide as the first null of an echo, 1 where it is too narrow for it. */
function narrowness({ levelDb, widthOctaves }: Pick<Feature, 'levelDb' | 'widthOctaves'>): number {
  const times = widthOctaves / firstNullOctaves(levelDb);
  return clip((WIDE_ENOUGH - times) / (WIDE_ENOUGH - TOO_NARROW), 0, 1);
}

/**
 * Width at half its depth (in dB) of the first null of direct sound and an echo that leave so much of the direct sound:
 * |1 + a·e^(−iφ)|² = 1 − a, so cos φ = −(1 + a)/2, half a turn from one top to the next. In octaves.
 */
export function firstNullOctaves(levelDb: number): number {
  const c = (2 - pow10(levelDb / 20)) / 2;
  const reach = atan2(Math.sqrt(1 - c * c), c) / Math.PI;
  return log2((1 + reach) / (1 - reach));
}

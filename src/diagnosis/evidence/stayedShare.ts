import { clip } from '../features/clip.js';
import { type Feature, signOf } from '../features/detectFeatures.js';
import type { Scene, StayedReflection } from '../scene/scene.js';
import { likenessThere } from './likenessThere.js';

/** A null of a reflection this near (relative) to a dip counts as the same. */
const NEAR = 0.04;
/** How deep a null becomes hangs on a few per cent of sound from elsewhere: from here on it need not be as deep. */
const DEEP_DB = 8;
/** Likeness of dip and null from which on one may be the other, and from which on it is. */
const LIKE = { from: 0.4, to: 0.8 };

/** From here on such a reflection makes the dip, as far as it is told. */
const MAKES_IT = 0.5;

/** How much of a dip a reflection that stayed when the speaker was moved makes, and which one. */
export interface StayedShare {
  /** 0 nothing, 1 all of it. */
  readonly part: number;
  readonly reflection: StayedReflection;
}

/**
 * The reflection that stayed and makes most of a dip. Where it makes all of it, the dip would be there whoever's it
 * is, and that it stayed tells nothing of the speaker.
 */
export function stayedShare(dip: Feature, scene: Scene): StayedShare | undefined {
  const { frequencyHz, measured, stayed } = scene;
  const sign = signOf(dip);
  const depthDb = Math.max(1, Math.min(DEEP_DB, sign * measured.localDb[dip.index]!));
  return stayed
    .map((reflection) => {
      let madeDb = 0;
      for (let i = 0; i < frequencyHz.length; i++)
        if (Math.abs(frequencyHz[i]! / dip.frequencyHz - 1) <= NEAR)
          madeDb = Math.max(madeDb, sign * reflection.localDb[i]!);
      const like = clip((likenessThere(dip, scene, reflection) - LIKE.from) / (LIKE.to - LIKE.from), 0, 1);
      return { part: clip(madeDb / depthDb, 0, 1) * like, reflection };
    })
    .sort((a, b) => b.part - a.part)[0];
}

/** The reflection that stayed and makes a dip, if one does. */
export function stayedMaker(dip: Feature, scene: Scene): StayedShare | undefined {
  const share = stayedShare(dip, scene);
  return share && share.part >= MAKES_IT ? share : undefined;
}

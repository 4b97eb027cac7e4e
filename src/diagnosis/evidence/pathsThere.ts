import { clip } from '../features/clip.js';
import { type Feature, signOf } from '../features/detectFeatures.js';
import type { Heights, Scene } from '../scene/scene.js';
import type { ReflectionShare } from './reflectionEvidence.js';

/** Where reflections shape curves, in Hz: beyond, speakers beam and a comb is too fine to compare. */
const TO_HZ = 2000;
/** A deep dip draws down the mean that heights are taken over, and its skirts are wide: nearer than this it is itself compared. */
const LEAST_OCTAVES = 1;
/** A path whose comb away from the dip is flatter than this (RMS, dB) cannot be told to have stayed or gone. */
const LEAST_COMB_DB = 0.4;
/** The share of its comb that is left elsewhere up to which a path has gone, and from which on it stayed. */
const GONE = 0.35;
const STAYED = 0.75;

/**
 * How much of a dip surfaces of the set-up make that stayed where they were in all other placements, 0 to 1, and how
 * much any paths that did not. A reflection is a comb: where the rest of its comb is gone, its dip cannot have stayed.
 */
export function pathsThere(
  dip: Feature,
  scene: Scene,
  share: ReflectionShare | undefined,
): { readonly stayed: number; readonly left: number } {
  const depthDb = Math.max(1, signOf(dip) * scene.measured.localDb[dip.index]!);
  let stayed = 0;
  let left = 0;
  share?.losses.forEach((lossDb, path) => {
    const part = clip(lossDb / depthDb, 0, 1);
    if (part === 0) return;
    const named = scene.reflected!.explanation.expected[path]?.name !== undefined;
    const combs = scene.moved.map((there) => combThere(dip, scene, path, there));
    const remains = Math.min(...combs.map((comb) => comb.remains));
    // One that the set-up does not have is allowed for by how much staying counts where surfaces are not known.
    if (named) stayed = Math.max(stayed, part * remains * (combs[0]!.flat ? 1 : combs[0]!.seen));
    left = Math.max(left, part * (1 - remains));
  });
  return { stayed, left };
}

interface Comb {
  /** Too flat away from the dip to tell. */
  readonly flat: boolean;
  /** How much of it the curve has away from the dip, 0 to 1. */
  readonly seen: number;
  /** 1 where that is the same in another placement, 0 where it is gone. */
  readonly remains: number;
}

function combThere(
  { index, widthOctaves }: Feature,
  { frequencyHz, octave, input, measured, reflected }: Scene,
  path: number,
  there: Heights,
): Comb {
  const without = reflected!.withoutDb[path]!;
  const own = Math.max(LEAST_OCTAVES, widthOctaves);
  let combComb = 0;
  let combHere = 0;
  let combThere = 0;
  let count = 0;
  for (let i = 0; i < frequencyHz.length; i++) {
    if (frequencyHz[i]! < input.range.fromHz || frequencyHz[i]! > Math.min(TO_HZ, input.range.toHz)) continue;
    if (Math.abs(octave[i]! - octave[index]!) < own) continue;
    const comb = reflected!.localDb[i]! - without[i]!;
    // What the other paths make is taken off: it may go while this one stays.
    combComb += comb * comb;
    combHere += comb * (measured.localDb[i]! - without[i]!);
    combThere += comb * (there.localDb[i]! - without[i]!);
    count++;
  }
  const flat = count === 0 || Math.sqrt(combComb / count) < LEAST_COMB_DB;
  if (flat || combHere <= 0) return { flat, seen: 0, remains: 1 };
  return {
    flat,
    seen: clip(combHere / combComb, 0, 1),
    remains: clip((combThere / combHere - GONE) / (STAYED - GONE), 0, 1),
  };
}

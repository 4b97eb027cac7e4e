import { baffleStepHz, sphereStepDb } from '../../acoustics/sphereBaffle.js';
import { log2 } from '../../elementary/logarithm.js';
import type { Scene } from './scene.js';

/** What a front of this width does, and what of it the curve shows. */
export interface BaffleStep {
  readonly stepHz: number;
  /** How much the sphere model rises from the octaves below to those above. */
  readonly expectedDb: number;
  /** How much the curve rises there, the box's fall and the fitted reflections taken out. */
  readonly foundDb: number;
}

/** Octaves from the middle of the step to the near and the far end of the spans that are compared. */
const NEAR_OCTAVES = 0.75;
const FAR_OCTAVES = 2.75;
/** Each span must be measured over this much. */
const LEAST_OCTAVES = 1;

/** The step from full space to half space at the front's width; nothing without a width or where too little was measured. */
export function baffleStep({
  input,
  octave,
  frequencyHz,
  measured,
  reflected,
  speedOfSoundMs,
}: Scene): BaffleStep | undefined {
  const widthM = input.setup?.baffleWidthM;
  if (widthM === undefined) return undefined;
  const stepHz = baffleStepHz(widthM, speedOfSoundMs);
  const middle = log2(stepHz);
  const { fromHz, toHz } = input.range;
  const own = measured.levelDb.map((level, i) => level - (reflected?.levelDb[i] ?? 0));
  const model = frequencyHz.map((f) => sphereStepDb((Math.PI * widthM * f) / speedOfSoundMs));
  const rise = (levelDb: Float64Array) => {
    const mean = (from: number, to: number) => {
      const here = levelDb.filter(
        (_, i) =>
          octave[i]! >= from && octave[i]! <= to && frequencyHz[i]! >= fromHz && frequencyHz[i]! <= toHz,
      );
      return here.reduce((sum, l) => sum + l, 0) / here.length;
    };
    return (
      mean(middle + NEAR_OCTAVES, middle + FAR_OCTAVES) - mean(middle - FAR_OCTAVES, middle - NEAR_OCTAVES)
    );
  };
  const below = log2(stepHz / fromHz) - NEAR_OCTAVES;
  const above = log2(toHz / stepHz) - NEAR_OCTAVES;
  if (below < LEAST_OCTAVES || above < LEAST_OCTAVES) return undefined;
  return { stepHz, expectedDb: rise(model), foundDb: rise(own) };
}

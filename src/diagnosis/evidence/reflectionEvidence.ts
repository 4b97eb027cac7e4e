import { pow2 } from '../../elementary/exponential.js';
import { log, log2 } from '../../elementary/logarithm.js';
import { clip } from '../features/clip.js';
import type { Feature } from '../features/detectFeatures.js';
import { pathStrength } from '../scene/fittedSurface.js';
import type { Reflected, Scene } from '../scene/scene.js';
import type { Evidence } from './evidence.js';

/** A reflection's dip this near (relative) to the curve's counts as the same. */
const NEAR = 0.06;
const AROUND_OCTAVES = 1;
const OWN_OCTAVES = 1 / 6;
const OWN_WIDTHS = 0.75;
const COMPANY = { fromHz: 60, toHz: 2500, ownOctaves: 1 / 3 };

/** How much of a dip the fitted reflections account for. */
export interface ReflectionShare {
  /** Depth of the reflections' own dip near it, in dB, positive; 0 where they make none. */
  readonly explainedDb: number;
  /** What of the depth they leave over; negative where they would make it deeper than it is. */
  readonly unexplainedDb: number;
  /** How far direct and reflected sound together lie under the direct sound alone there, in dB. */
  readonly underDirectDb: number;
  /** RMS of what they leave unexplained within an octave. */
  readonly leftAroundDb: number;
  /** RMS of the heights that reflections make elsewhere in the curve, and that the curve has. */
  readonly companyDb: number;
  readonly roughDb: number;
  /** What each path takes away at the dip, in the order of the explanation's paths. */
  readonly losses: readonly number[];
  /** ln of the strength of the path that does most at the dip over its strength an octave and a half below; reflections fade upward. */
  readonly rising: number;
}

export function reflectionShare(dip: Feature, scene: Scene): ReflectionShare | undefined {
  const { frequencyHz, octave, measured, reflected } = scene;
  if (!reflected) return undefined;
  const { index } = dip;
  const sign = dip.kind === 'dip' ? -1 : 1;
  let explainedDb = 0;
  let place = index;
  for (let i = 0; i < frequencyHz.length; i++) {
    if (Math.abs(frequencyHz[i]! / dip.frequencyHz - 1) > NEAR) continue;
    const height = sign * reflected.localDb[i]!;
    if (height > explainedDb) {
      explainedDb = height;
      place = i;
    }
  }
  // The dip's own flanks are not its surroundings.
  const own = Math.max(OWN_OCTAVES, Math.min(OWN_WIDTHS * dip.widthOctaves, AROUND_OCTAVES / 2));
  let left = 0;
  let leftCount = 0;
  let company = 0;
  let rough = 0;
  let companyCount = 0;
  for (let i = 0; i < frequencyHz.length; i++) {
    const f = frequencyHz[i]!;
    if (f < scene.input.range.fromHz || f > scene.input.range.toHz) continue;
    const away = Math.abs(octave[i]! - octave[index]!);
    if (away <= AROUND_OCTAVES && away >= own) {
      left += (measured.localDb[i]! - reflected.localDb[i]!) ** 2;
      leftCount++;
    }
    if (f < COMPANY.fromHz || f > COMPANY.toHz || away < COMPANY.ownOctaves) continue;
    company += reflected.localDb[i]! ** 2;
    rough += measured.localDb[i]! ** 2;
    companyCount++;
  }
  const rms = (sum: number, count: number) => (count > 0 ? Math.sqrt(sum / count) : 0);
  const losses = reflected.withoutDb.map((without) => sign * (reflected.localDb[place]! - without[place]!));
  const main = losses.indexOf(Math.max(...losses));
  return {
    explainedDb,
    unexplainedDb: sign * measured.localDb[index]! - explainedDb,
    underDirectDb: sign * reflected.levelDb[place]!,
    leftAroundDb: rms(left, leftCount),
    companyDb: rms(company, companyCount),
    roughDb: rms(rough, companyCount),
    losses,
    rising: main < 0 ? 0 : risingStrength(reflected, main, dip.frequencyHz),
  };
}

function risingStrength({ explanation }: Reflected, path: number, frequencyHz: number): number {
  const { parameters } = explanation.fit;
  return log(
    pathStrength(parameters, path, frequencyHz) / pathStrength(parameters, path, frequencyHz / pow2(1.5)),
  );
}

/** The strongest of the paths that bear a surface's name: index and what it takes away. */
export function strongestNamed(
  { losses }: ReflectionShare,
  { reflected }: Scene,
): { path: number; lossDb: number } | undefined {
  const named = losses
    .map((lossDb, path) => ({ path, lossDb }))
    .filter(({ path }) => reflected?.explanation.expected[path]?.name !== undefined)
    .sort((a, b) => b.lossDb - a.lossDb);
  return named[0];
}

export function reflectionEvidence(share: ReflectionShare, scene: Scene): Evidence[] {
  const { explainedDb, unexplainedDb, leftAroundDb } = share;
  const rough = clip((leftAroundDb - 1) / 1.5, 0, 1);
  return [
    {
      label: 'the fitted reflections',
      byCurve: true,
      terms: [
        { name: 'explainedTo1', value: clip(explainedDb, 0, 1.5) },
        { name: 'explainedTo3', value: clip(explainedDb - 1.5, 0, 1.5) },
        { name: 'underDirect', value: clip(share.underDirectDb - 1, 0, 4) },
      ],
    },
    {
      label: 'what they leave over',
      byCurve: true,
      terms: [
        { name: 'unexplainedInSmooth', value: clip(unexplainedDb, 0, 4) * (1 - rough) },
        { name: 'unexplainedInRough', value: clip(unexplainedDb, 0, 4) * rough },
      ],
    },
    {
      label: 'the rest of the curve',
      byCurve: true,
      terms: [
        { name: 'companyTo1', value: clip(share.companyDb, 0, 1) },
        {
          name: 'gain',
          value: clip(log2(Math.max(1, (scene.reflected?.explanation.gain ?? 0) / 40)), 0, 4),
        },
        { name: 'roughCurve', value: clip(share.roughDb, 0.5, 3) },
        { name: 'rising', value: clip(share.rising, 0, 1.5) },
      ],
    },
  ];
}

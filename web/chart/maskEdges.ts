import { interpolateLevel } from '../../src/curve/interpolateLevel.js';
import type { MaskPoint } from '../store/project.js';

/** A tolerance mask about a target, as levels in dB where its breakpoints reach. */
export interface MaskEdges {
  readonly frequencyHz: readonly number[];
  readonly lowerDb: readonly number[];
  readonly upperDb: readonly number[];
}

/** @returns undefined where the breakpoints span nothing of the curve */
export function maskEdges(
  points: readonly MaskPoint[] | undefined,
  target: { readonly frequencyHz: readonly number[]; readonly targetDb: readonly number[] },
): MaskEdges | undefined {
  if (!points || points.length < 2) return undefined;
  const sorted = [...points].sort((a, b) => a.frequencyHz - b.frequencyHz);
  const breaks = Float64Array.from(sorted, ({ frequencyHz }) => frequencyHz);
  const within = [...target.frequencyHz.keys()].filter((i) => {
    const hz = target.frequencyHz[i]!;
    return hz >= breaks[0]! && hz <= breaks.at(-1)!;
  });
  if (within.length === 0) return undefined;
  const edge = (side: 'lowerDb' | 'upperDb') => {
    const limit = { frequencyHz: breaks, levelDb: Float64Array.from(sorted, (point) => point[side]) };
    return within.map((i) => target.targetDb[i]! + interpolateLevel(limit, target.frequencyHz[i]!));
  };
  return {
    frequencyHz: within.map((i) => target.frequencyHz[i]!),
    lowerDb: edge('lowerDb'),
    upperDb: edge('upperDb'),
  };
}

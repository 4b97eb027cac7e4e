import { roundDb, roundHz } from '../pipeline/rounding.js';
import type { PredictedSurface } from '../schema/prediction.js';
import type { SurfacePrediction } from './predictSurface.js';

/** To a tenth of a millimetre. */
export function roundM(m: number): number {
  return Math.round(m * 1e4) / 1e4;
}

export function roundSurface(surface: SurfacePrediction): PredictedSurface {
  return {
    name: surface.name,
    speakerDistanceM: roundM(surface.speakerDistanceM),
    microphoneDistanceM: roundM(surface.microphoneDistanceM),
    pathDifferenceM: roundM(surface.pathDifferenceM),
    cancellationsHz: surface.cancellationsHz.map(roundHz),
    reinforcementsHz: surface.reinforcementsHz.map(roundHz),
    dips: surface.dips.map((dip) => ({
      frequencyHz: roundHz(dip.frequencyHz),
      ...(dip.interval && { fromHz: roundHz(dip.interval.fromHz), toHz: roundHz(dip.interval.toHz) }),
      expectedHz: roundHz(dip.expectedHz),
      depthDb: roundDb(dip.depthDb),
    })),
  };
}

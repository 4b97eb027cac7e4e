import { pressureLevelDb } from '../../src/acoustics/complexPressure.js';
import { pathDifferenceM, reflectedPathM } from '../../src/acoustics/imageSource.js';
import { planeGeometry } from '../../src/acoustics/planeGeometry.js';
import { planePressure } from '../../src/acoustics/reflectionModel.js';
import { speedOfSound } from '../../src/acoustics/speedOfSound.js';
import type { Design } from '../../src/schema/design.js';
import { setup } from '../state/shown.js';
import { selectedHz } from './chartState.js';

export interface Comb {
  readonly frequencyHz: Float64Array;
  readonly levelDb: Float64Array;
}

/** Above this a distance would have to be known to the millimetre, and the teeth only blacken the chart. */
const COMB_TO_HZ = 1500;

/**
 * What the reflection behind the selected finding would do to a curve as it should be: the comb that the geometry
 * predicts, as strong as the finding is deep; undefined where no surface of the set-up is behind it.
 */
export function combOfSelected({ findings, curves }: Design): Comb | undefined {
  const finding = findings.find(({ frequencyHz }) => frequencyHz === selectedHz.value);
  const where = setup.value;
  const surface = where?.surfaces.find(({ name }) => name === finding?.cause.surface);
  if (!finding || !where || !surface) return undefined;
  const plane = planeGeometry(where, surface);
  const c = speedOfSound(where.temperatureC);
  const rho = Math.min(0.9, Math.max(0.1, Math.abs(1 - 10 ** (finding.levelDb / 20))));
  const strength = (rho * reflectedPathM(plane)) / plane.r;
  // The dip belongs to the odd multiple of the first cancellation that lies nearest to it.
  const differenceM = pathDifferenceM(plane);
  const order = Math.max(1, Math.round((finding.frequencyHz * 2 * differenceM) / c + 0.5));
  const fittedM = finding.kind === 'dip' ? ((2 * order - 1) * c) / (2 * finding.frequencyHz) : differenceM;
  const lagM = Math.abs(Math.log2(fittedM / differenceM)) < 0.3 ? fittedM - differenceM : 0;
  const toHz = Math.max(COMB_TO_HZ, finding.frequencyHz * 1.5);
  const grid = Float64Array.from(curves.frequencyHz.filter((hz) => hz <= toHz));
  const levelDb = pressureLevelDb(planePressure(grid, plane, { strength, cornerHz: Infinity, lagM }, c));
  return { frequencyHz: grid, levelDb: levelDb.map((db, i) => curves.targetDb[i]! + db) };
}

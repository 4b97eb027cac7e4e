import type { Design } from '../../src/schema/design.js';
import { targetSchema } from '../../src/schema/target.js';
import { describeTarget } from '../../src/target/describeTarget.js';
import { targetShapeDb } from '../../src/target/targetShapeDb.js';
import type { ProjectOptions } from '../store/projectOptions.js';

/** Until the fit follows: the same curve aimed at the target as it is now. */
export function retargeted(design: Design, options: ProjectOptions): Design {
  const { target: drawn, bassShelf, bassShelfFrequency, tilt, level } = options;
  const target = {
    ...(drawn !== undefined && drawn !== 'flat' && { breakpoints: targetSchema.parse(drawn) }),
    ...(bassShelf !== undefined && { bassShelfDb: bassShelf }),
    ...(bassShelfFrequency !== undefined && { bassShelfFrequencyHz: bassShelfFrequency }),
    ...(tilt !== undefined && { tiltDbPerOctave: tilt }),
  };
  const shapeDb = targetShapeDb(target, Float64Array.from(design.curves.frequencyHz));
  const levelDb = level ?? design.levelDb;
  // What is known of the error is known for the earlier target.
  const { bound: _, errorAgainstBands: __, positions: ___, repeatability: ____, ...rest } = design;
  return {
    ...rest,
    levelDb,
    target: describeTarget(target),
    curves: { ...design.curves, targetDb: Array.from(shapeDb, (db) => db + levelDb) },
  };
}

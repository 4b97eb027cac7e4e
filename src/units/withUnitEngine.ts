import { loadUnitEngine } from './unitEngine.js';
import { UnitEngineNeeded } from './unitEngineNeeded.js';

/**
 * Does `work`; where a text in it is beyond the unit tables, loads the unit engine and does it once more. So
 * `work` reads all its quantities before it prints, writes or shows anything.
 */
export async function withUnitEngine<T>(work: () => T | Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (!(error instanceof UnitEngineNeeded)) throw error;
  }
  await loadUnitEngine();
  return work();
}

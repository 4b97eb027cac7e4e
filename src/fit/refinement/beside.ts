import type { Bands } from '../bank/bands.js';
import type { Objective } from '../objective/objective.js';
import { objectiveValue } from './objectiveValue.js';

/** What `run` finds while the bands of `still` are there, and stay as they are. */
export function beside<T>(objective: Objective, still: Bands, run: () => T): T {
  const { backgroundDb, eqDb } = objective;
  objectiveValue(objective, still);
  backgroundDb.set(eqDb);
  const found = run();
  backgroundDb.fill(0);
  return found;
}

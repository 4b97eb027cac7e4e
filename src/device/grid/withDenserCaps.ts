import { pow2 } from '../../elementary/exponential.js';
import { capAt } from '../../fit/problem/fitGrid.js';
import type { FitProblem } from '../../fit/problem/fitProblem.js';

/** Beyond the range a bank is held at the points of the cap alone, and a sharp band rises between those. */
const POINTS_PER_OCTAVE = 24;
/** Further out no band of the range is sharp. */
const OCTAVES_BEYOND = 0.75;

/** The same problem with the cap given at more points next to the range, where bands may still stand. */
export function withDenserCaps(problem: FitProblem): FitProblem {
  const { frequencyHz, capFrequencyHz } = problem;
  const [fromHz, toHz] = [frequencyHz[0]!, frequencyHz.at(-1)!];
  const beside = Array.from({ length: POINTS_PER_OCTAVE * OCTAVES_BEYOND }, (_, i) =>
    pow2((i + 1) / POINTS_PER_OCTAVE),
  );
  const added = beside
    .flatMap((ratio) => [fromHz / ratio, toHz * ratio])
    .filter((hz) => hz > capFrequencyHz[0]! && hz < capFrequencyHz.at(-1)!);
  const all = Float64Array.from(new Set([...capFrequencyHz, ...added])).sort();
  return { ...problem, capFrequencyHz: all, capDb: all.map((hz) => capAt(problem, hz)) };
}

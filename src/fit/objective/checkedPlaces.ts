import { lowerIndex } from '../../curve/lowerIndex.js';
import { pow2 } from '../../elementary/exponential.js';
import { log, log2 } from '../../elementary/logarithm.js';
import { tan } from '../../elementary/sine.js';
import { type Bands, filtersFromBands } from '../bank/bands.js';
import { capAt } from '../problem/fitGrid.js';
import type { FitProblem } from '../problem/fitProblem.js';

const POINTS_PER_OCTAVE = 192;
const LOWEST_HZ = 2;

/** Where the EQ is looked at. */
export interface Places {
  readonly frequencyHz: Float64Array;
  /** tan²(ω/2): the squared prewarped frequency. */
  readonly warped: Float64Array;
}

/** Where it is held against the cap. */
export interface CappedPlaces extends Places {
  readonly cap: Float64Array;
  /** The point of the cap's own grid below each. */
  readonly cell: Int32Array;
  /** Evenly spaced, so that a summit between points can be told from its neighbours. */
  readonly even: boolean;
}

/** What is the same for every bank of a problem. */
export interface CheckedPlaces {
  /** From 2 Hz to half the sample rate. */
  readonly dense: CappedPlaces;
  /** The problem's own points with the ends of its range, and the steps from each to the next in ln f. */
  readonly range: { readonly places: Places; readonly lnSteps: Float64Array };
  /** Of each zone its two edges. */
  readonly zoneEdges: readonly Places[];
}

const known = new WeakMap<FitProblem, CheckedPlaces>();

/** Asked for often; kept as long as the problem. */
export function checkedPlaces(problem: FitProblem): CheckedPlaces {
  const before = known.get(problem);
  if (before) return before;
  const rangeHz = withEnds(problem);
  const places = {
    dense: capped(problem, denseGrid(problem), true),
    range: {
      places: placesAt(problem, rangeHz),
      lnSteps: rangeHz.subarray(1).map((hz, p) => log(hz / rangeHz[p]!)),
    },
    zoneEdges: problem.zones.map(({ fromHz, toHz }) => placesAt(problem, Float64Array.of(fromHz, toHz))),
  };
  known.set(problem, places);
  return places;
}

/** The bands' own centres and what lies next to them. */
export function placesAround(problem: FitProblem, bands: Bands): CappedPlaces {
  const nyquist = problem.sampleRateHz / 2;
  const around = filtersFromBands(bands).flatMap(({ frequencyHz, q }) =>
    [-1, -0.5, 0, 0.5, 1].map((k) => frequencyHz * pow2(k / (8 * q))),
  );
  return capped(problem, Float64Array.from(around.filter((hz) => hz < nyquist)), false);
}

function denseGrid({ sampleRateHz }: FitProblem): Float64Array {
  const nyquist = sampleRateHz / 2;
  const count = Math.floor(log2(nyquist / LOWEST_HZ) * POINTS_PER_OCTAVE);
  return Float64Array.from({ length: count + 2 }, (_, i) =>
    i > count ? nyquist : LOWEST_HZ * pow2(i / POINTS_PER_OCTAVE),
  );
}

/** The grid with the ends of the range beside it, where it does not reach them. */
function withEnds({ frequencyHz, range }: FitProblem): Float64Array {
  if (!range) return frequencyHz;
  const before = range.fromHz < frequencyHz[0]! ? [range.fromHz] : [];
  const after = range.toHz > frequencyHz.at(-1)! ? [range.toHz] : [];
  return Float64Array.from([...before, ...frequencyHz, ...after]);
}

function placesAt({ sampleRateHz }: FitProblem, frequencyHz: Float64Array): Places {
  return { frequencyHz, warped: frequencyHz.map((hz) => tan((Math.PI * hz) / sampleRateHz) ** 2) };
}

function capped(problem: FitProblem, frequencyHz: Float64Array, even: boolean): CappedPlaces {
  return {
    ...placesAt(problem, frequencyHz),
    cap: frequencyHz.map((hz) => capAt(problem, hz)),
    cell: Int32Array.from(frequencyHz, (hz) => Math.max(0, lowerIndex(problem.capFrequencyHz, hz))),
    even,
  };
}

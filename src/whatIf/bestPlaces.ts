import { pow } from '../elementary/power.js';

/** A place of the speaker by its distances from the varied surfaces, and how good it is: less is better. */
export interface RatedPlace<T> {
  readonly distancesM: readonly number[];
  readonly value: number;
  readonly result: T;
}

/** Best places nearer to each other than this (in metres) are one. */
const APART_M = 0.1;
const MOST_BEST = 3;
/** Rounds of halving around the best: from some 5 cm to about 1 cm. */
const HALVINGS = 2;

/**
 * Rates places coarsely first and then between the best and their neighbours.
 *
 * @param axes distances of each varied surface, ascending
 * @param budget about how many places may be rated in the first round
 * @param also further places for the first round; those outside the axes are left out
 * @returns all that were rated, the coarse ones among them, and the best of them apart from each other
 */
export function ratePlaces<T>(
  axes: readonly (readonly number[])[],
  budget: number,
  rate: (distancesM: readonly number[]) => { readonly value: number; readonly result: T } | undefined,
  also: readonly (readonly number[])[] = [],
): { readonly rated: readonly RatedPlace<T>[]; readonly best: readonly RatedPlace<T>[] } {
  const perAxis = Math.max(3, Math.floor(pow(budget, 1 / axes.length)));
  const coarse = axes.map((axis) => thinned(axis, perAxis));
  const known = new Map<string, RatedPlace<T>>();
  const look = (distancesM: readonly number[]) => {
    const key = distancesM.map((m) => m.toFixed(4)).join(' ');
    if (known.has(key)) return;
    const rating = rate(distancesM);
    if (rating) known.set(key, { distancesM, ...rating });
  };
  let places: number[][] = [[]];
  for (const axis of coarse) places = places.flatMap((place) => axis.map((m) => [...place, m]));
  const isInside = (place: readonly number[]) =>
    axes.every((axis, k) => place[k]! >= axis[0]! && place[k]! <= axis[axis.length - 1]!);
  for (const place of [...places, ...also.filter(isInside)]) look(place);
  let steps = coarse.map((axis) =>
    axis.length > 1 ? (axis[axis.length - 1]! - axis[0]!) / (axis.length - 1) : 0,
  );
  for (let round = 0; round < HALVINGS; round++) {
    steps = steps.map((step) => step / 2);
    for (const { distancesM } of apart([...known.values()])) {
      axes.forEach((axis, k) => {
        for (const sign of [-1, 1]) {
          const m = Math.round((distancesM[k]! + sign * steps[k]!) * 200) / 200;
          if (m < axis[0]! || m > axis[axis.length - 1]!) continue;
          look(distancesM.map((d, i) => (i === k ? m : d)));
        }
      });
    }
  }
  const rated = [...known.values()];
  return { rated, best: apart(rated) };
}

/** The best places, each better than all within `APART_M` in every distance. */
function apart<T>(places: readonly RatedPlace<T>[]): RatedPlace<T>[] {
  const near = (a: RatedPlace<T>, b: RatedPlace<T>) =>
    a.distancesM.every((m, k) => Math.abs(m - b.distancesM[k]!) < APART_M);
  const sorted = [...places].sort((a, b) => a.value - b.value);
  return sorted
    .filter((place, i) => !sorted.slice(0, i).some((better) => near(better, place)))
    .slice(0, MOST_BEST);
}

function thinned(values: readonly number[], most: number): readonly number[] {
  if (values.length <= most) return values;
  const last = values.length - 1;
  return Array.from({ length: most }, (_, i) => values[Math.round((i * last) / (most - 1))]!);
}

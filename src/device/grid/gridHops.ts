import type { GridBand } from './bandTable.js';
import { bestAtoms, type GridAtoms } from './gridAtoms.js';
import { costOf } from './gridCost.js';
import {
  descend,
  descendBand,
  descendInPairs,
  type GridBank,
  type GridSpace,
  lessThan,
  restBeside,
} from './gridDescent.js';

const TRIED = 4;
/** Only what comes this near to the bank that it started from is worth moving in pairs. */
const NEAR = 1.0;
/** The search may drift over ground this little worse. */
const DRIFT = 1.003;
/** One band more has to be worth this share of the objective. */
const WORTH_A_BAND = 0.97;

/**
 * Takes one or two bands out, puts others in where most error remains, and lets all settle on the grid; again and
 * again from what is not worse.
 */
export function hop(
  space: GridSpace,
  atoms: GridAtoms,
  start: GridBank,
  hops: number,
  random: () => number,
): GridBank {
  let current = start;
  let best = start;
  for (let n = 0; n < hops; n++) {
    const tried = once(space, atoms, current, random);
    if (!tried) continue;
    const settled = tried.value < current.value * NEAR ? descendInPairs(space, tried.bands) : tried;
    const share = settled.bands.length > current.bands.length ? WORTH_A_BAND : DRIFT;
    if (settled.value < current.value * share) current = settled;
    const mark = settled.bands.length > best.bands.length ? best.value * WORTH_A_BAND : best.value;
    if (settled.value < lessThan(mark)) best = settled;
  }
  return best;
}

function once(
  space: GridSpace,
  atoms: GridAtoms,
  { bands }: GridBank,
  random: () => number,
): GridBank | undefined {
  const out = drawn(bands.length, random);
  let rest = bands.filter((_, i) => !out.includes(i));
  const more = bands.length < space.maxBands && random() < 0.3 ? 1 : 0;
  if (random() < 0.5) rest = [...descend(space, rest).bands];
  for (let n = 0; n < out.length + more; n++) {
    const next = inserted(space, atoms, rest, random);
    if (!next) break;
    rest = next;
  }
  return descend(space, rest);
}

/** Places of one or two bands, two of them often next to each other. */
function drawn(count: number, random: () => number): number[] {
  if (count === 0) return [];
  const first = Math.floor(random() * count);
  if (count === 1 || random() < 0.45) return [first];
  const second = random() < 0.6 ? (first + 1) % count : Math.floor(random() * count);
  return second === first ? [first] : [first, second];
}

/** The bank with one more band, the best or, now and then, the next best of those tried. */
export function inserted(
  space: GridSpace,
  atoms: GridAtoms,
  bands: readonly GridBand[],
  random: () => number,
): GridBand[] | undefined {
  const rest = restBeside(space, bands);
  const before = costOf(space.cost, rest);
  const canBe = (band: GridBand) => space.isAllowed([...bands, band]);
  const found = bestAtoms(atoms, rest, TRIED + 2)
    .filter(canBe)
    .slice(0, TRIED)
    .map((band) => descendBand(space, rest, band, canBe))
    .filter(({ value }) => value < before)
    .sort((a, b) => a.value - b.value);
  let place = 0;
  while (place + 1 < found.length && random() < 0.35) place++;
  const chosen = found[place];
  return chosen && byFrequency([...bands, chosen.band]);
}

const byFrequency = (bands: GridBand[]) => bands.sort((a, b) => a.frequency - b.frequency || a.q - b.q);

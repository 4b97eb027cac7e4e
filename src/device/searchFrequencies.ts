import { type Bands, byFrequency, NO_BANDS, withoutBand } from '../fit/bands.js';
import type { Refined } from '../fit/refine.js';
import { type FrequencyShape, frequencyShapes, withOneMore } from './frequencyShapes.js';
import { type FrequencySpace, frequenciesOf, look, placeOf, settle, triedOnce } from './frequencySpace.js';

/** A chain may drift over ground this little worse. */
const DRIFT = 1.003;
/** A bank moved by a place of the list has to win this much. */
const WORTH_MOVING = 0.9995;
/** Share of the moves that each chain gets before the better one goes on alone. */
const FIRST_SHARE = 0.3;

/**
 * Searches the frequencies of a device with gains and Qs free: bands go up and down the list, alone and in pairs of
 * neighbours, and one or two at a time are taken out and others put in where most error remains; from the bank given
 * and from one that is built up on the list.
 *
 * @param start with frequencies of the list
 * @param keep at most so many banks, each with other frequencies
 * @returns the best first
 */
export function searchFrequencies(
  searched: Omit<FrequencySpace, 'visited' | 'note'>,
  start: Bands,
  hops: number,
  keep: number,
  random: () => number,
): Refined[] {
  const found = new Map<string, Refined>();
  const note = (bank: Refined) => {
    const key = frequenciesOf(bank.bands);
    const known = found.get(key);
    if (!known || bank.value < known.value) found.set(key, bank);
  };
  const space: FrequencySpace = { ...searched, visited: new Set(), note };
  const shapes = frequencyShapes(space);
  const chains = [start, grown(space, shapes)].map((bands) => {
    const bank = shifted(space, settle(space, bands));
    return { current: bank, best: bank };
  });
  const advance = (chain: { current: Refined; best: Refined }, moves: number) => {
    for (let move = 0; move < moves; move++) {
      const tried = exchanged(space, shapes, chain.current, random);
      if (!tried) continue;
      const end = shifted(space, tried);
      if (end.value < chain.current.value * DRIFT) chain.current = end;
      if (end.value < chain.best.value) chain.best = end;
    }
  };
  const first = Math.round(FIRST_SHARE * hops);
  for (const chain of chains) advance(chain, first);
  const better = chains.reduce((a, b) => (b.best.value < a.best.value ? b : a));
  advance(better, hops - first * chains.length);
  return [...found.values()].sort((a, b) => a.value - b.value).slice(0, keep);
}

function grown(space: FrequencySpace, shapes: readonly FrequencyShape[]): Bands {
  let bands = NO_BANDS;
  while (bands.types.length < space.maxBands) {
    const best = withOneMore(space, shapes, bands, 3)
      .map((more) => look(space, more, 4))
      .sort((a, b) => a.value - b.value)[0];
    if (!best) break;
    bands = best.bands;
  }
  return bands;
}

/** Bands moved by one place of the list, alone and with a neighbour, until none of that helps. */
function shifted(space: FrequencySpace, start: Refined): Refined {
  let current = start;
  space.note(current);
  for (let improved = true; improved; ) {
    improved = false;
    for (const shift of shiftsOf(current.bands)) {
      const bands = withShift(space, current.bands, shift);
      const tried = bands && triedOnce(space, bands, current.value);
      if (!tried) continue;
      space.note(tried);
      if (tried.value >= current.value * WORTH_MOVING) continue;
      current = tried;
      improved = true;
      break;
    }
  }
  return current;
}

type Shift = readonly (readonly [band: number, places: number])[];

function shiftsOf(bands: Bands): Shift[] {
  const order = byFrequency(bands);
  const alone = order.flatMap((i): Shift[] => [[[i, 1]], [[i, -1]]]);
  const pairs = order.slice(1).flatMap((i, k) =>
    [1, -1].flatMap((a) =>
      [1, -1].map(
        (b): Shift => [
          [order[k]!, a],
          [i, b],
        ],
      ),
    ),
  );
  return [...alone, ...pairs];
}

function withShift({ lnF }: FrequencySpace, { types, values }: Bands, shift: Shift): Bands | undefined {
  const moved = values.slice();
  for (const [band, places] of shift) {
    const next = lnF[placeOf(lnF, values[3 * band]!) + places];
    if (next === undefined) return undefined;
    moved[3 * band] = next;
  }
  return { types, values: moved };
}

const SHARE_OF_DOUBLES = 0.6;
const SHARE_OF_CLOSED_GAPS = 0.5;
const SHARE_OF_NEXT_BEST = 0.4;
const PROMISING = 4;

/** One or two bands out, the others settled or not, and as many in as there may be where most error remains. */
function exchanged(
  space: FrequencySpace,
  shapes: readonly FrequencyShape[],
  { bands, value }: Refined,
  random: () => number,
): Refined | undefined {
  const count = bands.types.length;
  const order = byFrequency(bands);
  const at = Math.floor(random() * count);
  const isDouble = count > 1 && random() < SHARE_OF_DOUBLES;
  const out = count === 0 ? [] : isDouble ? [order[at]!, order[(at + 1) % count]!] : [order[at]!];
  let rest = out.sort((a, b) => b - a).reduce(withoutBand, bands);
  if (random() < SHARE_OF_CLOSED_GAPS) rest = look(space, rest, 4).bands;
  while (rest.types.length < space.maxBands) {
    const promising = withOneMore(space, shapes, rest, PROMISING);
    let place = 0;
    while (place + 1 < promising.length && random() < SHARE_OF_NEXT_BEST) place++;
    const chosen = promising[place];
    if (!chosen) break;
    rest = look(space, chosen, 3).bands;
  }
  return triedOnce(space, rest, value);
}

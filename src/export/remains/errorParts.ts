import { pow10 } from '../../elementary/power.js';
import type { Design } from '../../schema/design.js';
import { allowedLimit } from '../words/allowedLimits.js';

/** One part of the error that remains, in words that follow its figure: "0.20 for want of more bands". */
export interface ErrorPart {
  readonly db: string;
  readonly words: string;
}

const DECIMALS = 2;

/** What the error that remains consists of, the parts that are there; as written they add up to `total`. */
export function errorParts(design: Design): {
  readonly total: string;
  readonly parts: readonly ErrorPart[];
} {
  const { bound, filters, error, device, repeatability } = design;
  const total = error.afterRmsDb.toFixed(DECIMALS);
  if (!bound) return { total, parts: [] };
  const isFull = filters.length >= allowedLimit(design, 'bands').value;
  const isSaved = (repeatability?.bandsNotSpent ?? 0) > 0;
  const bands = isFull
    ? 'for want of more bands'
    : isSaved
      ? 'that more bands could take away, but not tell from noise'
      : 'that more bands could take away, but each too little';
  const parts = [
    { share: bound.unavoidableRmsDb, words: 'that no number of bands could mend under these limits' },
    { share: bound.bandsPriceDb, words: bands },
    { share: bound.aimPriceDb ?? 0, words: 'given up for the worst position' },
    { share: bound.devicePriceDb, words: deviceWords(device) },
  ];
  const written = roundedTogether(
    parts.map(({ share }) => share),
    Number(total),
  );
  return {
    total,
    parts: parts.map(({ words }, i) => ({ db: written[i]!, words })).filter(({ db }) => Number(db) > 0),
  };
}

function deviceWords(device: Design['device']): string {
  if (!device) return 'for the steps of rounding';
  const isFixed = device.coefficients?.fixedPoint !== undefined;
  return `for the steps${isFixed ? ' and the number format' : ''} of the equalizer`;
}

/** Rounds each so that together they make the rounded total: those that lose most by being cut are rounded up. */
function roundedTogether(shares: readonly number[], total: number): string[] {
  const unit = pow10(-DECIMALS);
  const cut = shares.map((share) => Math.floor(share / unit + 1e-6));
  const lost = shares.map((share, i) => share / unit - cut[i]!);
  let missing = Math.round(total / unit) - cut.reduce((sum, units) => sum + units, 0);
  for (const i of [...shares.keys()].sort((a, b) => lost[b]! - lost[a]!)) {
    if (missing <= 0) break;
    cut[i]!++;
    missing--;
  }
  return cut.map((units) => (units * unit).toFixed(DECIMALS));
}

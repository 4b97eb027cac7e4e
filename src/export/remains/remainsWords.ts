import type { Design } from '../../schema/design.js';
import { cleanText } from '../words/cleanText.js';
import { errorPair } from '../words/errorPair.js';
import { errorParts } from './errorParts.js';

/** "0.98 dB RMS = 0.78 that no number of bands could mend under these limits + 0.20 for want of more bands" */
export function leftOverWords(design: Design): string | undefined {
  if (!design.bound) return undefined;
  const { total, parts } = errorParts(design);
  const [first] = parts;
  if (!first) return 'nothing that could be told from none';
  if (parts.length > 1)
    return `${total} dB RMS = ${parts.map(({ db, words }) => `${db} ${words}`).join(' + ')}`;
  return `${total} dB RMS, all of it ${first.words}${freeWords(design.bound)}`;
}

/** The limits may well press on the bands there are; what the best EQ of any shape leaves says that more would get by. */
function freeWords({ unavoidableRmsDb, bandsPriceDb }: NonNullable<Design['bound']>): string {
  if (unavoidableRmsDb >= 0.005) return '';
  const more = bandsPriceDb >= 0.005 ? 'with more of them ' : '';
  return `; ${more}no limit on boost or loudness stands in the way`;
}

/** Where the curve of error against bands has its knee, without its subject and the last full stop. */
export function kneeWords({ errorAgainstBands, filters, device }: Design): string | undefined {
  if (!errorAgainstBands) return undefined;
  const { points, kneeBands, deviceBands = Infinity } = errorAgainstBands;
  const at = (bands: number) => points.find((point) => point.bands === bands)?.rmsDb.toFixed(2);
  const most = points.at(-1)!.bands;
  const first = points[0]!;
  if (kneeBands <= first.bands)
    return `no band brings much: ${at(first.bands)} dB RMS without any, ${at(most)} with ${most}`;
  const used = filters.length;
  const others = [used, Math.min(deviceBands, most), most].filter((bands) => bands !== kneeBands);
  const rest = [...new Set(others)]
    .filter((bands) => at(bands) !== undefined)
    .map((bands) => `${bands} ${bands === 1 ? 'leaves' : 'leave'} ${at(bands)}`)
    .join(', ');
  const isBeyond = kneeBands > deviceBands;
  const only = isBeyond ? `, but the equalizer has ${deviceBands}` : '';
  const more =
    !isBeyond && most > deviceBands ? `. The equalizer has ${deviceBands}: more want another one` : '';
  const steps = device ? ". What the equalizer's steps cost comes on top" : '';
  return (
    `the knee is at ${kneeBands} band${kneeBands === 1 ? '' : 's'}, with ${at(kneeBands)} dB RMS left${only}${rest === '' ? '' : `; ${rest}`}. ` +
    `Beyond the knee a band takes away less than a twentieth of the ${at(first.bands)} dB there are ${first.bands === 0 ? 'without any' : `with ${first.bands}`}${more}${steps}`
  );
}

/** How the worst of several positions fares. */
export function positionsWords({ positions }: Design): string | undefined {
  if (!positions) return undefined;
  const { before, after } = errorPair(positions.worstBeforeRmsDb, positions.worstAfterRmsDb);
  const worst = positions.each.reduce((a, b) => (b.afterRmsDb > a.afterRmsDb ? b : a));
  const aim = positions.aim === 'worst' ? 'the worst position was aimed at' : 'their average was aimed at';
  return (
    `the worst of ${positions.each.length} positions goes from ${before} to ${after} dB RMS about its own mean level ` +
    `(${cleanText(worst.name)} after); ${aim}`
  );
}

/** How well the measurement repeats, and what was not spent for it. */
export function repeatabilityWords({ repeatability }: Design): string | undefined {
  if (!repeatability) return undefined;
  const { db, source, measurements, bandsNotSpent, wouldWinDb } = repeatability;
  const from =
    source === 'given' ? 'as given' : `estimated from ${measurements} measurements of one position`;
  const bands = bandsNotSpent === 1 ? '1 band was' : `${bandsNotSpent} bands were`;
  const saved =
    bandsNotSpent === 0
      ? 'every band used wins more than it would on noise of that size'
      : `${bands} not spent: ${bandsNotSpent === 1 ? 'it' : 'they'} would win ${wouldWinDb.toFixed(2)} dB, no more than by following noise of that size`;
  return `to ${db.toFixed(2)} dB RMS, ${from}; ${saved}`;
}

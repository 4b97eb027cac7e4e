const NUMBERS: Readonly<Record<string, string>> = { frequencyHz: 'frequency', gainDb: 'gain', q: 'Q' };

/** Limits of all filters together, as a fit calls them. */
const SHARED: Readonly<Record<string, string>> = {
  'sum of the EQ at its cap':
    "All filters together: at the most allowed somewhere (less below the speaker's corner than elsewhere)",
  'EQ in a protected zone at its cap': 'All filters together: at the most allowed inside a span left alone',
  'level loss at its limit': 'Mean of the EQ over the range: as low as allowed',
};

/** A limit that a fit touches in words, with the filter's number as the listings have it; what is not known stays as it is. */
export function limitWords(limit: string): string {
  const [, index, field = '', end] = /^filters\[(\d+)\]\.(\w+) at (max|min)$/.exec(limit) ?? [];
  if (index === undefined) return SHARED[limit] ?? limit;
  return `Filter ${Number(index) + 1}: ${NUMBERS[field] ?? field} at its ${end === 'max' ? 'greatest' : 'least'}`;
}

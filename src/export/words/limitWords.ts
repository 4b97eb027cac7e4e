const NUMBERS: Readonly<Record<string, string>> = { frequencyHz: 'frequency', gainDb: 'gain', q: 'Q' };

/** A limit that a fit touches in words, with the filter's number as the listings have it; what names no filter stays as it is. */
export function limitWords(limit: string): string {
  const [, index, field = '', end] = /^filters\[(\d+)\]\.(\w+) at (max|min)$/.exec(limit) ?? [];
  if (index === undefined) return limit;
  return `Filter ${Number(index) + 1}: ${NUMBERS[field] ?? field} at its ${end === 'max' ? 'greatest' : 'least'}`;
}

/** No word that is known comes near to this. */
const MAX_LENGTH = 100;

/**
 * The word of `known` that `written` was probably meant to be; undefined where none is near: a third of its
 * letters, at least one, may be wrong, missing, too many or swapped with a neighbour.
 */
export function nearestWord(written: string, known: readonly string[]): string | undefined {
  if (written.length > MAX_LENGTH) return undefined;
  const distances = known.map((word) => editDistance(written.toLowerCase(), word.toLowerCase()));
  const least = Math.min(...distances);
  const allowed = Math.max(1, Math.floor(written.length / 3));
  return least <= allowed ? known[distances.indexOf(least)] : undefined;
}

/** Optimal string alignment distance (Damerau 1964, Levenshtein 1966). */
function editDistance(a: string, b: string): number {
  let before: number[] = [];
  let above = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
      row.push(
        Math.min(
          above[j]! + 1,
          row[j - 1]! + 1,
          above[j - 1]! + same,
          swapped ? before[j - 2]! + 1 : Number.POSITIVE_INFINITY,
        ),
      );
    }
    before = above;
    above = row;
  }
  return above[b.length]!;
}

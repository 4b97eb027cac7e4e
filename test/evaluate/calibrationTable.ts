const EDGES = [0.8, 0.88, 0.92, 0.95, 0.97, 1.01];

/** Stated confidence against how often it was right, in bins, as lines of a table. */
export function calibrationTable(calls: readonly { confidence: number; right: boolean }[]): string {
  return EDGES.slice(0, -1)
    .map((from, k) => {
      const here = calls.filter((c) => c.confidence >= from && c.confidence < EDGES[k + 1]!);
      if (here.length === 0) return `  from ${from.toFixed(2)}: none`;
      const said = here.reduce((sum, c) => sum + c.confidence, 0) / here.length;
      const right = here.filter((c) => c.right).length / here.length;
      return `  from ${from.toFixed(2)}: said ${(100 * said).toFixed(0)} %, right ${(100 * right).toFixed(0)} % of ${here.length}`;
    })
    .join('\n');
}

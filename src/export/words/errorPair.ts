import { fixedDecimals } from './fixedDecimals.js';

/** Two errors side by side with as few decimals as still tell them apart: "3.9", "0.8". */
export function errorPair(beforeDb: number, afterDb: number): { before: string; after: string } {
  const decimals = beforeDb !== afterDb && beforeDb.toFixed(1) === afterDb.toFixed(1) ? 2 : 1;
  return { before: fixedDecimals(beforeDb, decimals), after: fixedDecimals(afterDb, decimals) };
}

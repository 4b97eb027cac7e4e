import { fixedDecimals } from './fixedDecimals.js';

/** A level or a distance in dB for reading, one decimal: "3.9 dB", "-6.2 dB". */
export function formatDb(valueDb: number): string {
  return `${fixedDecimals(valueDb, 1)} dB`;
}

/** A change in dB for reading, always with its sign: "+2.0 dB", "-6.2 dB", "0.0 dB". */
export function formatSignedDb(valueDb: number): string {
  const text = fixedDecimals(valueDb, 1);
  return `${Number(text) > 0 ? '+' : ''}${text} dB`;
}

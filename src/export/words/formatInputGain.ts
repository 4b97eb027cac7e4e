import { columnDecimals } from './columnDecimals.js';

/** The input gain as it is to be set, with every digit that it has: rounded up it would let the filters clip. */
export function formatInputGain(inputGainDb: number): string {
  return `${columnDecimals([inputGainDb], 4)[0]} dB`;
}

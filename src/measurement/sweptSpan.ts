import type { FrequencyRange } from '../curve/curve.js';
import { wavChunks } from './wavChunks.js';
import type { WavHeader } from './wavHeader.js';

const SWEPT = /swept from (\d+(?:\.\d+)?) Hz to (\d+(?:\.\d+)?) Hz/;

/** What an impulse response says of the sweep that it was measured with. */
export const sweptComment = ({ fromHz, toHz }: FrequencyRange): string =>
  `swept from ${plain(fromHz)} Hz to ${plain(toHz)} Hz`;

const plain = (hz: number) => String(Number(hz.toFixed(3)));

/** The same, read from the texts of a WAV file; undefined where none says it. */
export function sweptSpan(bytes: Uint8Array, header: WavHeader): FrequencyRange | undefined {
  const text = wavChunks(bytes, header)
    .kept.map((chunk) => String.fromCharCode(...chunk.subarray(0, MOST_BYTES)))
    .join(' ');
  const [, fromHz, toHz] = SWEPT.exec(text)?.map(Number) ?? [];
  return fromHz !== undefined && toHz !== undefined && fromHz > 0 && toHz > fromHz
    ? { fromHz, toHz }
    : undefined;
}

/** Of a chunk; our own is far shorter. */
const MOST_BYTES = 4096;

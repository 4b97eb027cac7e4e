import { closeSync, fstatSync, openSync, readSync } from 'node:fs';
import type { SampleSource } from '../../src/impulse/samples/sampleSource.js';
import type { ChannelOfFile } from '../../src/measurement/inChannel.js';
import { wavChannelIndex } from '../../src/measurement/wavFile.js';
import { readWavHeader } from '../../src/measurement/wavHeader.js';
import { decodeWavFrames } from '../../src/measurement/wavSamples.js';
import type { Warning } from '../../src/warning.js';
import { checkInputFile } from './readInput.js';

/** What may stand before the samples. */
const HEAD_BYTES = 4 * 1024 * 1024;

export interface OpenWavFile {
  readonly source: SampleSource;
  readonly sampleRateHz: number;
  readonly channel: ChannelOfFile;
  readonly warnings: readonly Warning[];
}

/**
 * One channel of a WAV file of any length, of which only what is asked for is held in memory.
 *
 * @param work done while the file is open
 * @param channelNumber counted from 1; without it the first
 * @throws InputError where it is missing, no such file, or no WAV file
 */
export function withWavFile<T>(
  path: string,
  expected: string,
  channelNumber: number | undefined,
  work: (file: OpenWavFile) => T,
): T {
  checkInputFile(path, expected);
  const file = openSync(path, 'r');
  try {
    const { size } = fstatSync(file);
    const head = bytesAt(file, 0, Math.min(size, HEAD_BYTES));
    const header = readWavHeader(head, path, size);
    const index = wavChannelIndex(header, path, channelNumber);
    const read = (from: number, count: number) => {
      const at = header.dataOffset + from * header.bytesPerFrame;
      return decodeWavFrames(
        bytesAt(file, at, count * header.bytesPerFrame),
        header,
        index,
        path,
        from,
        count,
      );
    };
    return work({
      source: { length: header.frameCount, read },
      sampleRateHz: header.sampleRateHz,
      channel: { fileName: path, channelCount: header.channelCount, channelNumber },
      warnings: header.warnings,
    });
  } finally {
    closeSync(file);
  }
}

function bytesAt(file: number, position: number, count: number): Uint8Array {
  const bytes = new Uint8Array(count);
  let filled = 0;
  while (filled < count) {
    const got = readSync(file, bytes, filled, count - filled, position + filled);
    if (got === 0) break;
    filled += got;
  }
  return bytes.subarray(0, filled);
}

import { log10 } from '../../elementary/logarithm.js';
import { createBankRunner } from '../../filter/runBank.js';
import { InputError } from '../../inputError.js';
import { createWavBlockWriter } from '../../measurement/wavBlockWriter.js';
import { wavChunks } from '../../measurement/wavChunks.js';
import { readWavHeader, type WavHeader } from '../../measurement/wavHeader.js';
import { decodeWavFrames } from '../../measurement/wavSamples.js';
import type { WavSampleFormat } from '../../measurement/wavWriter.js';
import type { Design } from '../../schema/design.js';
import type { Warning } from '../../warning.js';
import { type Dither, hasSteps, triangularDither } from './triangularDither.js';

export interface RenderedWav {
  readonly bytes: Uint8Array;
  readonly report: RenderReport;
}

export interface RenderReport {
  readonly sampleRateHz: number;
  readonly channelCount: number;
  readonly frameCount: number;
  readonly format: WavSampleFormat;
  readonly inputGainDb: number;
  /** Greatest absolute sample of all channels before and after, relative to full scale; absent where all are 0. */
  readonly peakBeforeDb?: number;
  readonly peakAfterDb?: number;
  /** Samples of the result beyond full scale: limited in PCM, kept in float. */
  readonly samplesOver: number;
  readonly limitedSamples: number;
  readonly dither: Dither;
  /** Names of the further chunks of the file that were taken over, and of those that were not. */
  readonly keptChunks: readonly string[];
  readonly droppedChunks: readonly string[];
  readonly warnings: readonly Warning[];
}

type RenderedDesign = Pick<Design, 'filters' | 'sampleRateHz' | 'inputGainDb'>;

const BLOCK_FRAMES = 65_536;

/**
 * A WAV file as it sounds through a design: input gain, then all filters on every channel. The result is as long as
 * the input. Beside input and result only one block is held.
 *
 * @param bytes the file
 * @param fileName for messages
 * @param format default: that of the input, 16 bits in place of 8
 * @param dither noise ahead of the rounding to PCM; default: none
 * @throws InputError where dither is asked for of a format without steps, it is no WAV file or has another sample rate than the design
 */
export function renderWav(
  design: RenderedDesign,
  bytes: Uint8Array,
  fileName: string,
  format?: WavSampleFormat,
  dither: Dither = 'none',
): RenderedWav {
  const header = readWavHeader(bytes, fileName);
  const { sampleRateHz, channelCount, frameCount, channelMask } = header;
  if (sampleRateHz !== design.sampleRateHz) {
    throw new InputError(
      `${fileName}: found a sample rate of ${sampleRateHz} Hz, expected ${design.sampleRateHz} Hz, for which the ` +
        `design was made. Fit again with --sample-rate ${sampleRateHz}, or convert the file to ` +
        `${design.sampleRateHz} Hz first`,
    );
  }
  const written = format ?? formatLike(header);
  if (dither !== 'none' && !hasSteps(written)) {
    throw new InputError(
      `--dither: found ${dither} with ${written}, expected a PCM format: float is not rounded to steps`,
    );
  }
  const further = wavChunks(bytes, header);
  const writer = createWavBlockWriter({
    channelCount,
    sampleRateHz,
    format: written,
    frameCount,
    channelMask,
    chunks: further.kept,
  });
  const dithers = Array.from({ length: channelCount }, (_, channel) =>
    dither === 'none' ? () => {} : triangularDither(written, channel),
  );
  const runners = Array.from({ length: channelCount }, () =>
    createBankRunner(design.filters, sampleRateHz, design.inputGainDb),
  );
  let peakBefore = 0;
  let peakAfter = 0;
  let samplesOver = 0;
  for (let first = 0; first < frameCount; first += BLOCK_FRAMES) {
    const frames = Math.min(BLOCK_FRAMES, frameCount - first);
    const start = header.dataOffset + first * header.bytesPerFrame;
    const block = bytes.subarray(start, start + frames * header.bytesPerFrame);
    const channels = runners.map((run, channel) => {
      const samples = decodeWavFrames(block, header, channel, fileName, first);
      for (const sample of samples) peakBefore = Math.max(peakBefore, Math.abs(sample));
      run(samples);
      for (const sample of samples) {
        const size = Math.abs(sample);
        if (size > peakAfter) peakAfter = size;
        if (size > 1) samplesOver++;
      }
      dithers[channel]!(samples);
      return samples;
    });
    writer.append(channels);
  }
  const { bytes: result, limitedSamples } = writer.finish();
  return {
    bytes: result,
    report: {
      sampleRateHz,
      channelCount,
      frameCount,
      format: written,
      inputGainDb: design.inputGainDb,
      ...(peakBefore > 0 && { peakBeforeDb: 20 * log10(peakBefore) }),
      ...(peakAfter > 0 && { peakAfterDb: 20 * log10(peakAfter) }),
      samplesOver,
      limitedSamples,
      dither,
      keptChunks: further.keptNames,
      droppedChunks: further.droppedNames,
      warnings: [...header.warnings, ...overWarnings(samplesOver, peakAfter, written)],
    },
  };
}

function overWarnings(samplesOver: number, peak: number, format: WavSampleFormat): Warning[] {
  if (samplesOver === 0) return [];
  const count = `${samplesOver} ${samplesOver === 1 ? 'sample lies' : 'samples lie'} beyond full scale`;
  const byDb = (20 * log10(peak)).toFixed(1);
  const message = format.startsWith('float')
    ? `${count}, by up to ${byDb} dB. The float file holds them as they are; turn it down by that much before it is played or turned into PCM.`
    : `${count}, by up to ${byDb} dB, and ${samplesOver === 1 ? 'was' : 'were'} clipped. Lower the input file by that much, or render with --format float32.`;
  return [{ code: 'clipped', message }];
}

function formatLike({ encoding, bitsPerSample }: WavHeader): WavSampleFormat {
  if (encoding === 'float') return bitsPerSample === 64 ? 'float64' : 'float32';
  if (bitsPerSample === 24) return 'pcm24';
  return bitsPerSample === 32 ? 'pcm32' : 'pcm16';
}

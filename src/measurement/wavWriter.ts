import { pow2 } from '../elementary/exponential.js';
import { InputError } from '../inputError.js';

export type WavSampleFormat = 'pcm16' | 'pcm24' | 'pcm32' | 'float32' | 'float64';

export interface WavToWrite {
  /** One or more channels of equal length, full scale ±1. */
  readonly channels: readonly Float64Array[];
  readonly sampleRateHz: number;
  readonly format: WavSampleFormat;
  /** Which loudspeaker each channel is for, one bit each as in WAVE_FORMAT_EXTENSIBLE; 0 (default): not said. */
  readonly channelMask?: number;
  /** A text about the recording, in ASCII (LIST/INFO, ICMT). */
  readonly comment?: string;
}

export interface WrittenWav {
  readonly bytes: Uint8Array<ArrayBuffer>;
  /** Samples beyond full scale that PCM could not hold and that were limited. */
  readonly limitedSamples: number;
}

const bitsOf: Record<WavSampleFormat, number> = { pcm16: 16, pcm24: 24, pcm32: 32, float32: 32, float64: 64 };

/** Front centre, and front left and right: what a plain header means. */
const usualMask: Readonly<Record<number, number>> = { 1: 0x4, 2: 0x3 };

/**
 * A WAV file. PCM is rounded to the nearest step, without dither; more than two channels, and one or two that
 * stand elsewhere than usual, get the extensible header.
 *
 * @throws InputError where it would exceed the 4 GB that a WAV header can state
 */
export function writeWav({
  channels,
  sampleRateHz,
  format,
  channelMask = 0,
  comment,
}: WavToWrite): WrittenWav {
  const frameCount = channels[0]?.length ?? 0;
  if (channels.length === 0 || channels.some((c) => c.length !== frameCount))
    throw new RangeError('a WAV file needs channels of equal length');
  const bits = bitsOf[format];
  const isFloat = format.startsWith('float');
  const extensible = channels.length > 2 || (channelMask !== 0 && channelMask !== usualMask[channels.length]);
  const formatSize = extensible ? 40 : isFloat ? 18 : 16;
  const factSize = isFloat ? 12 : 0;
  const bytesPerFrame = (channels.length * bits) / 8;
  const dataSize = frameCount * bytesPerFrame;
  const dataStart = 12 + 8 + formatSize + factSize + 8;
  const dataEnd = dataStart + dataSize + (dataSize % 2);
  // With a zero at its end, as the standard has it, and one more where its length would be odd.
  const commentSize = comment === undefined ? 0 : comment.length + 2 - (comment.length % 2);
  const fileSize = dataEnd + (comment === undefined ? 0 : 20 + commentSize);
  if (fileSize - 8 > 0xffffffff)
    throw new InputError(
      `a WAV file of ${fileSize} bytes; at most 4 GB can be written. Use fewer bits or less time.`,
    );
  const view = new DataView(new ArrayBuffer(fileSize));
  let at = 0;
  const text = (s: string) => {
    for (const c of s) view.setUint8(at++, c.charCodeAt(0));
  };
  const u16 = (value: number) => {
    view.setUint16(at, value, true);
    at += 2;
  };
  const u32 = (value: number) => {
    view.setUint32(at, value, true);
    at += 4;
  };
  const tag = isFloat ? 3 : 1;
  text('RIFF');
  u32(fileSize - 8);
  text('WAVEfmt ');
  u32(formatSize);
  u16(extensible ? 0xfffe : tag);
  u16(channels.length);
  u32(sampleRateHz);
  u32(sampleRateHz * bytesPerFrame);
  u16(bytesPerFrame);
  u16(bits);
  if (formatSize > 16) u16(formatSize - 18);
  if (extensible) {
    u16(bits);
    u32(channelMask);
    u16(tag);
    for (const byte of [0, 0, 0, 0, 16, 0, 128, 0, 0, 170, 0, 56, 155, 113]) view.setUint8(at++, byte);
  }
  if (isFloat) {
    text('fact');
    u32(4);
    u32(frameCount);
  }
  text('data');
  u32(dataSize);
  const limitedSamples = channels.reduce(
    (count, samples, c) => count + writeChannel(view, at + (c * bits) / 8, bytesPerFrame, samples, format),
    0,
  );
  if (comment !== undefined) {
    at = dataEnd;
    text('LIST');
    u32(12 + commentSize);
    text('INFOICMT');
    u32(comment.length + 1);
    text(comment);
  }
  return { bytes: new Uint8Array(view.buffer as ArrayBuffer), limitedSamples };
}

function writeChannel(
  view: DataView,
  start: number,
  bytesPerFrame: number,
  samples: Float64Array,
  format: WavSampleFormat,
): number {
  if (format === 'float32' || format === 'float64') {
    samples.forEach((value, i) => {
      if (!Number.isFinite(value)) throw new RangeError(`sample ${i} is ${value}`);
      if (format === 'float32') view.setFloat32(start + i * bytesPerFrame, value, true);
      else view.setFloat64(start + i * bytesPerFrame, value, true);
    });
    return 0;
  }
  const full = pow2(bitsOf[format] - 1);
  let limited = 0;
  samples.forEach((value, i) => {
    if (!Number.isFinite(value)) throw new RangeError(`sample ${i} is ${value}`);
    const rounded = Math.round(value * full);
    const step = Math.max(-full, Math.min(full - 1, rounded));
    // +1.0 itself is one step beyond the greatest value; losing that step is not worth a warning.
    if (rounded > full || rounded < -full) limited++;
    const at = start + i * bytesPerFrame;
    if (format === 'pcm16') view.setInt16(at, step, true);
    else if (format === 'pcm32') view.setInt32(at, step, true);
    else {
      view.setUint16(at, step & 0xffff, true);
      view.setInt8(at + 2, step >> 16);
    }
  });
  return limited;
}

import { InputError } from '../inputError.js';
import type { Warning } from '../warning.js';

export type WavEncoding = 'pcm' | 'float';

/** Where the samples of a WAV file lie and how they are written. */
export interface WavHeader {
  readonly encoding: WavEncoding;
  /** Of the container: 8, 16, 24 or 32 for PCM (left-justified where fewer are used), 32 or 64 for float. */
  readonly bitsPerSample: number;
  readonly channelCount: number;
  readonly sampleRateHz: number;
  /** Samples of each channel. */
  readonly frameCount: number;
  readonly bytesPerFrame: number;
  /** Which loudspeaker each channel is for, one bit each as in WAVE_FORMAT_EXTENSIBLE; 0 where the file does not say. */
  readonly channelMask: number;
  /** Of the first frame, in bytes from the start of the file. */
  readonly dataOffset: number;
  readonly warnings: readonly Warning[];
}

const minSampleRateHz = 8_000;
const maxSampleRateHz = 384_000;
const maxDurationS = 3600;
/** A size that could not be written into 32 bits, or was never filled in. */
const unknownSize = 0xffffffff;

const encodingNames: Record<number, string> = {
  2: 'ADPCM',
  6: 'A-law',
  7: 'mu-law',
  17: 'IMA ADPCM',
  80: 'MPEG audio',
  85: 'MPEG audio layer 3',
};
const extensibleTag = 0xfffe;
/** Bytes 2 to 15 of the sub-format identifiers that stand for plain format tags. */
const plainSubFormat = [0, 0, 0, 0, 16, 0, 128, 0, 0, 170, 0, 56, 155, 113];

/**
 * Reads the header of a RIFF/WAVE file (or RF64/BW64, EBU Tech 3306, for sizes beyond 4 GB) and checks it
 * against itself and against the length of the file, so that no later step has to.
 *
 * @param bytes the file, or its beginning up to at least the first sample
 * @param fileName for messages
 * @param fileSize bytes in the whole file
 * @throws InputError where it is no WAV file, is cut off, contradicts itself, or holds what is not read here
 */
export function readWavHeader(bytes: Uint8Array, fileName: string, fileSize = bytes.length): WavHeader {
  const fail = (message: string): never => {
    throw new InputError(`${fileName}: ${message}`);
  };
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < 12) fail(`too short for a WAV file (${bytes.length} bytes; the header alone takes 44)`);
  const form = fourCharacters(bytes, 0);
  const large = form === 'RF64' || form === 'BW64';
  if (form === 'RIFX') fail('a big-endian WAV file ("RIFX"); expected little-endian ("RIFF")');
  if (form !== 'RIFF' && !large) fail(`not a WAV file: it begins with ${shown(form)}, expected "RIFF"`);
  const kind = fourCharacters(bytes, 8);
  if (kind !== 'WAVE') fail(`not a WAV file: a RIFF file of kind ${shown(kind)}, expected "WAVE"`);

  const warnings: Warning[] = [];
  let format: WavFormat | undefined;
  let largeDataSize: number | undefined;
  let offset = 12;
  for (;;) {
    if (offset + 8 > bytes.length) {
      const missing = format ? '"data"' : '"fmt "';
      if (bytes.length < fileSize) fail(`no ${missing} chunk within the first ${bytes.length} bytes`);
      fail(`the file ends at byte ${fileSize} without a ${missing} chunk; it is cut off or damaged`);
    }
    const id = fourCharacters(bytes, offset);
    const statedSize = view.getUint32(offset + 4, true);
    const start = offset + 8;
    const available = fileSize - start;
    if (id === 'data') {
      if (!format) return fail('the samples ("data") come before the format ("fmt "); the file is damaged');
      const size = statedSize === unknownSize && largeDataSize !== undefined ? largeDataSize : statedSize;
      checkFormSize(view.getUint32(4, true), fileSize, large, warnings);
      checkDataSize(size, available, format, fail);
      const frameCount = size / format.bytesPerFrame;
      if (frameCount > maxDurationS * format.sampleRateHz)
        fail(`${Math.round(frameCount / format.sampleRateHz)} s long; at most ${maxDurationS} s are read`);
      return { ...format, frameCount, dataOffset: start, warnings: [...warnings, ...format.warnings] };
    }
    if (statedSize > available)
      fail(
        `the ${shown(id)} chunk at byte ${offset} claims ${statedSize} bytes, but only ${available} follow; ` +
          'the file is cut off or its header is wrong',
      );
    if (id === 'fmt ') {
      if (start + statedSize > bytes.length)
        fail(`no complete "fmt " chunk within the first ${bytes.length} bytes`);
      format = readFormat(view, start, statedSize, fail);
    }
    if (id === 'ds64' && statedSize >= 16 && start + 16 <= bytes.length)
      largeDataSize = Number(view.getBigUint64(start + 8, true));
    // Chunks begin on even bytes.
    offset = start + statedSize + (statedSize % 2);
  }
}

type Fail = (message: string) => never;
type WavFormat = Omit<WavHeader, 'frameCount' | 'dataOffset'>;

function readFormat(view: DataView, start: number, size: number, fail: Fail): WavFormat {
  if (size < 16) fail(`the "fmt " chunk has ${size} bytes; expected at least 16`);
  const statedTag = view.getUint16(start, true);
  const channelCount = view.getUint16(start + 2, true);
  const sampleRateHz = view.getUint32(start + 4, true);
  const bytesPerSecond = view.getUint32(start + 8, true);
  const bytesPerFrame = view.getUint16(start + 12, true);
  const statedBits = view.getUint16(start + 14, true);
  let tag = statedTag;
  let channelMask = 0;
  if (statedTag === extensibleTag) {
    if (size < 40) fail(`the extensible "fmt " chunk has ${size} bytes; expected 40`);
    if (plainSubFormat.some((byte, i) => view.getUint8(start + 26 + i) !== byte))
      fail('an encoding of its own (unknown sub-format); expected PCM or float');
    tag = view.getUint16(start + 24, true);
    channelMask = view.getUint32(start + 20, true);
    const usedBits = view.getUint16(start + 18, true);
    if (usedBits > statedBits)
      fail(`the header says ${usedBits} bits used of ${statedBits}; one of them is wrong`);
  }
  if (tag !== 1 && tag !== 3) {
    const name = encodingNames[tag] ?? `format ${tag}`;
    fail(`encoded as ${name}; expected PCM of 16, 24 or 32 bits or float of 32 or 64 bits`);
  }
  const encoding = tag === 3 ? 'float' : 'pcm';
  if (channelCount === 0) fail('the header says 0 channels');
  const allowedBits = encoding === 'float' ? [32, 64] : [8, 16, 20, 24, 32];
  if (!allowedBits.includes(statedBits))
    fail(`${encoding} of ${statedBits} bits; expected ${encoding === 'float' ? '32 or 64' : '16, 24 or 32'}`);
  const bitsPerSample = 8 * Math.ceil(statedBits / 8);
  if (bytesPerFrame !== (channelCount * bitsPerSample) / 8)
    fail(
      `the header says ${bytesPerFrame} bytes a frame, but ${channelCount} channels of ${statedBits} bits take ` +
        `${(channelCount * bitsPerSample) / 8}; it contradicts itself`,
    );
  if (sampleRateHz < minSampleRateHz || sampleRateHz > maxSampleRateHz)
    fail(`a sample rate of ${sampleRateHz} Hz; expected ${minSampleRateHz} to ${maxSampleRateHz} Hz`);
  const warnings: Warning[] = [];
  if (bytesPerSecond === 0)
    warnings.push({
      code: 'wav-header-incomplete',
      message: `The header gives no bytes per second, so its sample rate of ${sampleRateHz} Hz could not be checked.`,
    });
  else if (bytesPerSecond !== sampleRateHz * bytesPerFrame)
    fail(
      `the header says ${sampleRateHz} Hz, but ${bytesPerSecond} bytes a second at ${bytesPerFrame} bytes a frame ` +
        `are ${bytesPerSecond / bytesPerFrame} Hz; it contradicts itself`,
    );
  return { encoding, bitsPerSample, channelCount, sampleRateHz, bytesPerFrame, channelMask, warnings };
}

/** A wrong size of the whole is harmless where the samples are all there, but is said. */
function checkFormSize(stated: number, fileSize: number, large: boolean, warnings: Warning[]): void {
  const missingPadding = stated === fileSize - 7;
  if (stated === fileSize - 8 || missingPadding || (large && stated === unknownSize)) return;
  warnings.push({
    code: 'wav-header-wrong-size',
    message:
      `The header says that the file has ${stated + 8} bytes; it has ${fileSize}. ` +
      'All samples are there, so it was read; what wrote it should be checked.',
  });
}

function checkDataSize(size: number, available: number, format: WavFormat, fail: Fail): void {
  if ((size === 0 || size === unknownSize) && available > 0)
    fail(
      `the header does not say how many samples follow (size ${size}), as where a recording was broken off; ` +
        'open and save it again with the program that recorded it',
    );
  if (size === 0) fail('it holds no samples');
  if (size > available)
    fail(
      `the header promises ${size} bytes of samples, but only ${available} follow; ` +
        'the file is cut off or its header is wrong',
    );
  if (size % format.bytesPerFrame !== 0)
    fail(
      `${size} bytes of samples are no whole number of frames of ${format.bytesPerFrame} bytes; ` +
        'the file is cut off or its header is wrong',
    );
}

function fourCharacters(bytes: Uint8Array, offset: number): string {
  return String.fromCharCode(...bytes.subarray(offset, offset + 4));
}

/** An identifier as it may stand in a message: in quotes where printable, else its bytes. */
function shown(id: string): string {
  if (/^[ -~]{4}$/.test(id)) return `"${id}"`;
  return `bytes ${Array.from(id, (c) => c.charCodeAt(0).toString(16).padStart(2, '0')).join(' ')}`;
}

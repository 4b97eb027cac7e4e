import { pow2 } from '../elementary/exponential.js';
import { InputError } from '../inputError.js';
import type { WavHeader } from './wavHeader.js';

/**
 * One channel of a stretch of frames, full scale ±1.
 *
 * @param block whole frames as they lie in the file (more bytes than `frameCount` frames are left alone)
 * @param channel counted from 0
 * @param firstFrame number of the block's first frame in the file, for messages
 * @param target where the samples go; its own array unless given
 * @throws InputError at a float sample that is no number
 */
export function decodeWavFrames(
  block: Uint8Array,
  header: WavHeader,
  channel: number,
  fileName: string,
  firstFrame = 0,
  frameCount = Math.floor(block.length / header.bytesPerFrame),
  target = new Float64Array(frameCount),
): Float64Array {
  const { bytesPerFrame, bitsPerSample, encoding } = header;
  if (!(channel >= 0 && channel < header.channelCount))
    throw new RangeError(`channel ${channel} of ${header.channelCount}`);
  if (frameCount * bytesPerFrame > block.length)
    throw new RangeError(`${frameCount} frames do not lie in ${block.length} bytes`);
  const view = new DataView(block.buffer, block.byteOffset, block.byteLength);
  let at = (channel * bitsPerSample) / 8;
  if (encoding === 'float') {
    const wide = bitsPerSample === 64;
    for (let i = 0; i < frameCount; i++, at += bytesPerFrame) {
      const value = wide ? view.getFloat64(at, true) : view.getFloat32(at, true);
      if (!Number.isFinite(value)) {
        const frame = firstFrame + i;
        throw new InputError(
          `${fileName}: sample ${frame} (at ${(frame / header.sampleRateHz).toFixed(4)} s) is ${value}; ` +
            'expected a number',
        );
      }
      target[i] = value;
    }
    return target;
  }
  const scale = pow2(1 - bitsPerSample);
  switch (bitsPerSample) {
    case 8:
      for (let i = 0; i < frameCount; i++, at += bytesPerFrame) target[i] = (view.getUint8(at) - 128) * scale;
      break;
    case 16:
      for (let i = 0; i < frameCount; i++, at += bytesPerFrame) target[i] = view.getInt16(at, true) * scale;
      break;
    case 24:
      for (let i = 0; i < frameCount; i++, at += bytesPerFrame)
        target[i] = (view.getUint16(at, true) + 65536 * view.getInt8(at + 2)) * scale;
      break;
    default:
      for (let i = 0; i < frameCount; i++, at += bytesPerFrame) target[i] = view.getInt32(at, true) * scale;
  }
  return target;
}

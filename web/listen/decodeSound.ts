import { InputError } from '../../src/inputError.js';

/** Decoded, a minute of stereo takes some 20 MB of memory. */
const MAX_BYTES = 120 * 2 ** 20;
const LEAST_S = 0.2;

/**
 * A sound file of the user's, decoded at the context's sample rate.
 *
 * @throws InputError in words
 */
export async function decodeSound(
  context: BaseAudioContext,
  file: Blob & { readonly name: string },
): Promise<AudioBuffer> {
  if (file.size > MAX_BYTES) {
    const size = Math.round(file.size / 2 ** 20);
    throw new InputError(
      `“${file.name}”: found ${size} MB, expected a sound of at most 120 MB: a part of it will do`,
    );
  }
  const bytes = await file.arrayBuffer().catch(() => {
    throw new InputError(`“${file.name}” could not be read: was it moved or deleted?`);
  });
  if (bytes.byteLength === 0) throw new InputError(`“${file.name}” is empty`);
  const sound = await context.decodeAudioData(bytes).catch(() => {
    throw new InputError(
      `“${file.name}” holds no sound that this browser can play; expected a WAV, FLAC, MP3, Ogg or MP4 audio file`,
    );
  });
  if (sound.duration < LEAST_S) {
    throw new InputError(
      `“${file.name}”: found ${Math.round(sound.duration * 1000)} ms of sound, expected at least 200 ms`,
    );
  }
  return sound;
}

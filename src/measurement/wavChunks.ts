import type { WavHeader } from './wavHeader.js';

/** What stands in a WAV file beside format and samples. */
export interface WavChunks {
  /** What stays true when the samples are filtered: texts, and marks in time. Identifier, size and padding included. */
  readonly kept: readonly Uint8Array[];
  /** Their names, "LIST/INFO" for a list. */
  readonly keptNames: readonly string[];
  readonly droppedNames: readonly string[];
}

/** Texts about the recording; marks by sample number, and the words beside them. All else may speak of levels. */
const STAY_TRUE = ['LIST/INFO', 'LIST/adtl', 'cue '];
/** Belong to the samples, and are written anew, or hold nothing. */
const OF_THE_SAMPLES = ['fmt ', 'fact', 'data', 'ds64', 'JUNK', 'junk', 'PAD ', 'FLLR'];
/** More than texts take: whoever hides more there does not get it copied. */
const MOST_BYTES = 1 << 20;

/**
 * The further chunks of a WAV file, before and after its samples. A last one that is cut off is left out.
 *
 * @param bytes the whole file, whose header has been read
 */
export function wavChunks(bytes: Uint8Array, header: WavHeader): WavChunks {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const dataSize = header.frameCount * header.bytesPerFrame;
  const kept: Uint8Array[] = [];
  const keptNames: string[] = [];
  const dropped = new Set<string>();
  let total = 0;
  for (let at = 12; at + 8 <= bytes.length; ) {
    const id = fourCharacters(bytes, at);
    const size = at + 8 === header.dataOffset ? dataSize : view.getUint32(at + 4, true);
    const next = at + 8 + size + (size % 2);
    const isWhole = at + 8 + size <= bytes.length;
    const name = id === 'LIST' && size >= 4 && isWhole ? `LIST/${fourCharacters(bytes, at + 8)}` : id;
    if (isWhole && STAY_TRUE.includes(name) && total + size <= MOST_BYTES) {
      const chunk = new Uint8Array(next - at);
      chunk.set(bytes.subarray(at, at + 8 + size));
      kept.push(chunk);
      keptNames.push(name.trim());
      total += size;
    } else if (!OF_THE_SAMPLES.includes(id) && isPrintable(name)) dropped.add(name.trim());
    at = next;
  }
  return { kept, keptNames, droppedNames: [...dropped] };
}

const isPrintable = (name: string) => /^[ -~]+$/.test(name);

function fourCharacters(bytes: Uint8Array, offset: number): string {
  return String.fromCharCode(...bytes.subarray(offset, offset + 4));
}

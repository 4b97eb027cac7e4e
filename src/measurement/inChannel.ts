import { InputError } from '../inputError.js';
import { inFile } from './inFile.js';

/** Which channel of a file is read. */
export interface ChannelOfFile {
  readonly fileName: string;
  readonly channelCount: number;
  /** Counted from 1; the first where the user asked for none. */
  readonly channelNumber?: number | undefined;
}

/** Does `work`; what it refuses is said of the file and, where it has several channels, of the one that was read. */
export function inChannel<T>({ fileName, channelCount, channelNumber = 1 }: ChannelOfFile, work: () => T): T {
  return inFile(fileName, () => {
    try {
      return work();
    } catch (error) {
      if (channelCount === 1 || !(error instanceof InputError)) throw error;
      const read = `channel ${channelNumber} of ${channelCount} was read; --channel picks another`;
      throw new InputError(`${error.message} (${read})`);
    }
  });
}

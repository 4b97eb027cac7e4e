import { InputError } from '../../src/inputError.js';
import { readWavHeader } from '../../src/measurement/wavHeader.js';
import { withUnitEngine } from '../../src/units/withUnitEngine.js';
import type { ProjectFile } from '../store/project.js';
import { fileBytes } from '../store/projectFile.js';
import { checkFile } from '../work/readJob.js';

/**
 * A file as it can be read: as it is, or, where the first channel of a WAV file holds no impulse response, by the first
 * channel that does.
 *
 * @throws InputError saying what is wrong with the file
 */
export async function firstReadable(file: ProjectFile): Promise<ProjectFile> {
  try {
    await withUnitEngine(() => checkFile(file));
    return file;
  } catch (error) {
    const other = error instanceof InputError ? otherChannel(file) : undefined;
    if (other) return other;
    throw error;
  }
}

function otherChannel(file: ProjectFile): ProjectFile | undefined {
  if (file.encoding !== 'base64') return undefined;
  const isReadable = (each: ProjectFile) => {
    try {
      checkFile(each);
      return true;
    } catch (error) {
      if (error instanceof InputError) return false;
      throw error;
    }
  };
  return Array.from({ length: channelCount(file) - 1 }, (_, i) => ({ ...file, channel: i + 2 })).find(
    isReadable,
  );
}

function channelCount(file: ProjectFile): number {
  try {
    return Math.min(64, readWavHeader(fileBytes(file), file.name).channelCount);
  } catch (error) {
    if (error instanceof InputError) return 1;
    throw error;
  }
}

import { InputError } from '../../src/inputError.js';
import { withUnitEngine } from '../../src/units/withUnitEngine.js';
import type { ProjectFile } from '../store/project.js';
import { checkFile } from '../work/readJob.js';
import { isImpulseResponse } from './roles.js';

/**
 * An impulse response read like those measured before: with another part of it counted the two would differ by the
 * room, whatever the filters do.
 *
 * @param before the files that it comes to
 * @returns the file as it is where there is none before, or where it cannot be read like that one
 */
export async function readAlike(file: ProjectFile, before: readonly ProjectFile[]): Promise<ProjectFile> {
  const first = before.find((each) => each.role === 'position' && isImpulseResponse(each));
  if (!first || !isImpulseResponse(file)) return file;
  const { gate, channel } = first;
  const alike = {
    ...file,
    ...(gate !== undefined && { gate }),
    ...(channel !== undefined && { channel }),
  };
  try {
    await withUnitEngine(() => checkFile(alike));
    return alike;
  } catch (error) {
    if (error instanceof InputError) return file;
    throw error;
  }
}

/** Whether the impulse responses with the filters in have another part of them counted than those without. */
export function areReadApart(files: readonly ProjectFile[]): boolean {
  const gates = (role: 'position' | 'after') =>
    files.filter((file) => file.role === role && isImpulseResponse(file)).map(({ gate }) => gate);
  const [before, after] = [gates('position'), gates('after')];
  return before.length > 0 && after.some((gate) => !before.includes(gate));
}

import { InputError } from '../../src/inputError.js';
import { withUnitEngine } from '../../src/units/withUnitEngine.js';
import type { FileRole, ProjectFile } from '../store/project.js';
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

/** Whether impulse responses that are compared with each other have different parts of them counted. */
export function areReadApart(files: readonly ProjectFile[]): boolean {
  const gates = (...roles: readonly FileRole[]) =>
    files.filter((file) => roles.includes(file.role) && isImpulseResponse(file)).map(({ gate }) => gate);
  const before = gates(files.some(({ role }) => role === 'before') ? 'before' : 'position');
  return before.length > 0 && gates('after', 'other').some((gate) => !before.includes(gate));
}

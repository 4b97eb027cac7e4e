import { InputError } from '../../src/inputError.js';
import type { Design } from '../../src/schema/design.js';
import { readDesign } from '../../src/schema/readDesign.js';
import { withUnitEngine } from '../../src/units/withUnitEngine.js';
import type { FileRole, ProjectFile } from '../store/project.js';
import { checkFile } from '../work/readJob.js';
import { isImpulseResponse } from './roles.js';

/**
 * An impulse response read like those measured before, or like what a saved design was made from: with another part of it counted the two would differ by the
 * room, whatever the filters do.
 *
 * @param before the files that it comes to
 * @returns the file as it is where there is none before, or where it cannot be read like that one
 */
export async function readAlike(file: ProjectFile, before: readonly ProjectFile[]): Promise<ProjectFile> {
  if (!isImpulseResponse(file) || file.gate !== undefined) return file;
  const first = before.find((each) => each.role === 'position' && isImpulseResponse(each));
  const saved = COMPARED.includes(file.role) ? savedDesign(before) : undefined;
  const gate = saved ? gateOf(saved) : first?.gate;
  const channel = file.channel ?? first?.channel;
  if (gate === undefined && channel === file.channel) return file;
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

/**
 * Whether impulse responses that are compared with each other have different parts of them counted.
 *
 * @param saved the design that they are held against in place of the worksheet's own
 */
export function areReadApart(files: readonly ProjectFile[], saved: Design | undefined): boolean {
  const gates = (...roles: readonly FileRole[]) =>
    files.filter((file) => roles.includes(file.role) && isImpulseResponse(file)).map(({ gate }) => gate);
  const isApart = (before: readonly (string | undefined)[]) =>
    before.length > 0 && gates('after', 'other').some((gate) => !before.includes(gate));
  if (files.some(({ role }) => role === 'before')) return isApart(gates('before'));
  if (!saved) return isApart(gates('position'));
  const gate = gateOf(saved);
  return gate !== undefined && isApart([gate]);
}

const COMPARED: readonly FileRole[] = ['after', 'before', 'other'];

function savedDesign(files: readonly ProjectFile[]): Design | undefined {
  const file = files.find(({ role }) => role === 'promised');
  return file && readDesign(file.content, file.name);
}

/** As much as was counted for a design, as a person writes it. */
const gateOf = ({ gateS }: Design) =>
  gateS === undefined ? undefined : `${Number((1000 * gateS).toPrecision(6))} ms`;

import { shippedDevices } from '../../src/device/profile/shippedDevices.js';
import { InputError } from '../../src/inputError.js';
import { readSetup } from '../../src/schema/setup.js';
import { UnitEngineNeeded } from '../../src/units/unitEngineNeeded.js';
import { demoProject } from '../demo.js';
import { deviceText } from '../sheet/deviceText.js';
import type { Project, ProjectFile } from '../store/project.js';

const isOfDemo = ({ content }: ProjectFile) => demoProject.files.some((file) => file.content === content);

/** Whether the demo is what a worksheet is about, whatever has been done to it. */
export const showsDemo = ({ files }: Pick<Project, 'files'>) => files.some(isOfDemo);

/** What the user has added to the demo: it goes on where the demo itself makes way. */
export function ownFiles({ files }: Pick<Project, 'files'>): ProjectFile[] {
  return files.filter((file) => !isOfDemo(file) && !isChosen(file) && !isCorrectedDemo(file));
}

/** An equalizer out of the list on the sheet is no file of the user's. */
const isChosen = ({ role, content }: ProjectFile) =>
  role === 'device' && shippedDevices.some((device) => deviceText(device) === content);

/** The demo's set-up with other distances. */
function isCorrectedDemo({ role, name, content }: ProjectFile): boolean {
  const original = demoProject.files.find((file) => file.role === 'setup');
  if (role !== 'setup' || !original || name !== original.name) return false;
  const surfaces = (text: string) =>
    JSON.stringify(readSetup(text, name).surfaces.map((surface) => surface.name));
  try {
    return surfaces(content) === surfaces(original.content);
  } catch (error) {
    if (error instanceof InputError || error instanceof UnitEngineNeeded) return false;
    throw error;
  }
}

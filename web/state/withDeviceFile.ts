import { shippedDevices } from '../../src/device/profile/shippedDevices.js';
import { deviceText } from '../sheet/deviceText.js';
import type { Project, ProjectFile } from '../store/project.js';

/** A project that names a device of the program, with that device as a file of its own, which is what the sheet works with. */
export function withDeviceFile(project: Project): Project {
  const { device: named, ...options } = project.options;
  if (named === undefined) return project;
  const shipped = shippedDevices.find(({ name }) => name === named);
  const hasOwn = project.files.some(({ role }) => role === 'device');
  if (!shipped || hasOwn) return { ...project, options };
  const file: ProjectFile = {
    name: `${named}.json`,
    role: 'device',
    encoding: 'text',
    content: deviceText(shipped),
  };
  return { ...project, options, files: [...project.files, file] };
}

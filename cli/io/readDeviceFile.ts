import type { DeviceProfile } from '../../src/device/profile/deviceProfile.js';
import { shippedDevices } from '../../src/device/profile/shippedDevices.js';
import { readDevice } from '../../src/schema/device.js';
import { readInputText } from './readInput.js';

const DEVICE =
  `one of the devices ${shippedDevices.map(({ name }) => name).join(', ')}, ` +
  'or a device file in JSON (its format: nullwise schema device)';

/** One of the devices that come with the program, or a file. */
export function readDeviceFile(nameOrPath: string): DeviceProfile {
  const shipped = shippedDevices.find(({ name }) => name === nameOrPath);
  return shipped ?? readDevice(readInputText(nameOrPath, DEVICE), nameOrPath, DEVICE);
}

import { readEffort } from '../../src/fit/effort.js';
import { readAim } from '../../src/fit/fitPositions.js';
import { checkDesignOptions } from '../../src/schema/designOptions.js';
import { gather } from '../gather.js';
import { impulseReading } from '../impulseOptions.js';
import { readDeviceFile } from '../io/readDeviceFile.js';
import { readTargetFile } from '../io/readFiles.js';
import { optionName } from '../options.js';
import type { Flags } from '../readRequest.js';

/**
 * Sees to the options of the whole batch before any job is done, so that a slip in one of them is told once.
 *
 * @throws InputError with every problem of theirs
 */
export function checkCommon(common: Flags): void {
  const { aim, effort, target, device } = common;
  gather([
    () => void impulseReading(common),
    () => checkDesignOptions(common, 'options', optionName),
    () => {
      if (aim !== undefined) readAim(aim);
    },
    () => {
      if (effort !== undefined) readEffort(effort);
    },
    () => {
      if (target !== undefined) readTargetFile(target);
    },
    () => {
      if (device !== undefined) readDeviceFile(device);
    },
  ]);
}

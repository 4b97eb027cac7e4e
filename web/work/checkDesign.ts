import { InputError } from '../../src/inputError.js';
import { averageMeasurements } from '../../src/pipeline/averageMeasurements.js';
import { onceEach } from '../../src/pipeline/onceEach.js';
import type { Verification } from '../../src/schema/verification.js';
import { verifyDesign } from '../../src/verify/verifyDesign.js';
import type { ProjectFile } from '../store/project.js';
import type { Check } from './messages.js';
import { calibrationOf, readCalibrated, readOther } from './readJob.js';

/**
 * Holds measurements against a design as the command line does.
 *
 * @throws InputError naming the files, where they cannot be read or compared
 */
export function checkDesign({ design, after, before, other, calibration }: Check): Verification {
  const read = (files: readonly ProjectFile[]) => files.map((file) => readCalibrated(file, calibration));
  const each = read(after);
  const measured = averageMeasurements(each);
  const without = before.length > 0 ? averageMeasurements(read(before)) : undefined;
  const otherChannel = other && readOther(other, calibration);
  return naming([...after, ...before, ...(other ? [other] : [])], () =>
    verifyDesign({
      design,
      after: measured.curve,
      seen: measured,
      measured: each,
      ...(without && { before: without.curve }),
      averaged: { after: after.length, before: before.length || 1 },
      ...(otherChannel && { other: otherChannel.channel }),
      calibration: calibration ? { curve: calibrationOf(calibration).curve, name: calibration.name } : 'none',
      warnings: onceEach([
        ...measured.warnings,
        ...(without?.warnings ?? []),
        ...(otherChannel?.warnings ?? []),
      ]),
      fileNames: { after: namesOf(after), ...(without && { before: namesOf(before) }) },
    }),
  );
}

const namesOf = (files: readonly ProjectFile[]) => files.map(({ name }) => name).join(', ');

/** Does `work`; where what it refuses names none of the files, they are named ahead of it. */
function naming<T>(files: readonly ProjectFile[], work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof InputError) || files.some(({ name }) => error.message.includes(name))) throw error;
    throw new InputError(`${namesOf(files)}: ${error.message}`);
  }
}

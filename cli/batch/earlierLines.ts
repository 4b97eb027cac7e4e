import { closeSync, existsSync, ftruncateSync, openSync, readFileSync } from 'node:fs';
import { InputError } from '../../src/inputError.js';

/**
 * How many jobs an earlier run has left in `path`. A last line that was cut off in the middle is taken away.
 *
 * @param names of all jobs, in the order of the lines
 * @throws InputError where the file holds anything but the first lines of this batch
 */
export function earlierLines(path: string, names: readonly string[]): number {
  if (!existsSync(path)) return 0;
  const bytes = readFileSync(path);
  const whole = bytes.lastIndexOf(10) + 1;
  const lines = bytes.subarray(0, whole).toString('utf8').split('\n').slice(0, -1);
  lines.forEach((line, i) => {
    if (i < names.length && jobOf(line) === names[i]) return;
    throw new InputError(
      `${path}, line ${i + 1}: not a result of job ${JSON.stringify(names[i] ?? 'none')}, expected what an earlier run ` +
        'of the same manifest has left; --force begins anew',
    );
  });
  if (whole < bytes.length) {
    const file = openSync(path, 'r+');
    ftruncateSync(file, whole);
    closeSync(file);
  }
  return lines.length;
}

function jobOf(line: string): string | undefined {
  try {
    const { job } = JSON.parse(line) as { readonly job?: unknown };
    return typeof job === 'string' ? job : undefined;
  } catch {
    return undefined;
  }
}

import { InputError } from '../inputError.js';

/** Does `work`; what it refuses is said of the file. */
export function inFile<T>(fileName: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (error instanceof InputError) throw new InputError(`${fileName}: ${error.message}`);
    throw error;
  }
}

import { CommanderError } from 'commander';
import { InputError } from '../src/inputError.js';
import { withUnitEngine } from '../src/units/withUnitEngine.js';
import { printError } from './io/terminal.js';
import { createProgram } from './program.js';

/**
 * Runs one command line and gives its exit code: 0 done, 1 a fault of ours, 2 bad input or options.
 *
 * @param args what follows the program's name
 */
export async function run(args: readonly string[]): Promise<number> {
  try {
    // A command reads all that it is given before it writes or prints, so that it can begin again.
    await withUnitEngine(() => createProgram().parseAsync(args, { from: 'user' }));
    return 0;
  } catch (error) {
    return report(error);
  }
}

function report(error: unknown): number {
  const debug = Boolean(process.env.NULLWISE_DEBUG);
  if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2; // its message is out already
  const stack = error instanceof Error ? error.stack : undefined;
  if (error instanceof InputError) {
    printError('error', debug && stack ? stack : error.message);
    return 2;
  }
  const message = error instanceof Error ? error.message : String(error);
  printError(
    'internal fault',
    debug && stack
      ? stack
      : `${message.split('\n')[0]}\nThis is a fault of Nullwise, not of your files. Run again with NULLWISE_DEBUG=1 to see where it arose.`,
  );
  return 1;
}

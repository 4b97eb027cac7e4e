import { InputError } from '../src/inputError.js';

/**
 * Runs every task, so that the user hears of all problems at once and not of one after another.
 *
 * @throws InputError with the messages of all tasks that threw one
 */
export function gather(tasks: readonly (() => void)[]): void {
  const messages = tasks.flatMap((task) => {
    try {
      task();
      return [];
    } catch (error) {
      if (error instanceof InputError) return [error.message];
      throw error;
    }
  });
  if (messages.length > 0) throw new InputError([...new Set(messages)].join('\n'));
}

import type { Command } from 'commander';
import { InputError } from '../src/inputError.js';
import { optionName } from './options.js';

/**
 * Has a command refuse an option that is given twice with different values, unless it is one that gathers them: the
 * first would be dropped in silence.
 */
export function refuseRepeats(command: Command): void {
  const earlier = new Map<string, string>();
  for (const option of command.options) {
    const gathers = option.parseArg !== undefined && option.argChoices === undefined;
    if (gathers || (!option.required && !option.negate)) continue;
    command.on(`option:${option.name()}`, (value: string | null) => {
      const field = option.attributeName();
      const found = option.negate ? `${option.long}` : JSON.stringify(value);
      const before = earlier.get(field) ?? found;
      if (before !== found)
        throw new InputError(`${optionName(field)}: found ${before} and ${found}, expected one of them`);
      earlier.set(field, found);
    });
  }
}

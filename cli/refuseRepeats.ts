import type { Command } from 'commander';
import { InputError } from '../src/inputError.js';

/**
 * Has a command refuse two different files for an option that reads one: the first would be dropped in silence. Of other
 * options the last one counts, as those who put one behind an alias expect (common practice, no published source).
 */
export function refuseRepeats(command: Command): void {
  const earlier = new Map<string, string>();
  for (const option of command.options) {
    const gathers = option.parseArg !== undefined;
    const reads = /<.*\bfile\b.*>/.test(option.flags) && option.long !== '--out';
    if (gathers || !reads) continue;
    command.on(`option:${option.name()}`, (value: string) => {
      const before = earlier.get(option.name()) ?? value;
      if (before !== value)
        throw new InputError(
          `${option.long}: found ${JSON.stringify(before)} and ${JSON.stringify(value)}, expected one of them`,
        );
      earlier.set(option.name(), value);
    });
  }
}

import type { EffortName } from '../../src/fit/effort.js';
import type { Aim } from '../../src/fit/fitPositions.js';
import { InputError } from '../../src/inputError.js';
import { type DesignOptions, readDesignOptions } from '../../src/schema/designOptions.js';
import { withUnitEngine } from '../../src/units/withUnitEngine.js';
import { optionWords } from '../work/optionWords.js';
import { project } from './present.js';
import { change } from './session.js';

export type OptionField = keyof DesignOptions;

/** Chooses what the EQ is to make small at several positions. */
export function chooseAim(aim: Aim): void {
  change(
    'choose what to aim at',
    (now) => {
      const { aim: _, ...rest } = now.options;
      return { ...now, options: { ...rest, ...(aim !== 'mean' && { aim }) } };
    },
    { refit: true },
  );
}

/** Chooses how long a fit searches. */
export function chooseEffort(effort: EffortName): void {
  change(
    'choose how long to search',
    (now) => {
      const { effort: _, ...rest } = now.options;
      return { ...now, options: { ...rest, ...(effort !== 'normal' && { effort }) } };
    },
    { refit: true },
  );
}

/**
 * Takes what was typed into a field of the options; nothing typed brings the default back.
 *
 * @returns what is wrong with it, in words; undefined where it was taken
 */
export async function typeOption(field: OptionField, typed: string): Promise<string | undefined> {
  const { target: _, aim: _____, effort: ______, ...before } = project.peek().options;
  const { [field]: __, ...others } = before;
  const text = typed.trim();
  try {
    const read = await withUnitEngine(() =>
      readDesignOptions(text === '' ? others : { ...others, [field]: text }, 'Not taken', optionWords),
    );
    const value = text === '' ? undefined : read[field];
    if (value === before[field]) return undefined;
    change(
      `set ${optionWords(field).toLowerCase()}`,
      (now) => {
        const { [field]: ___, ...rest } = now.options;
        return { ...now, options: { ...rest, ...(value !== undefined && { [field]: value }) } };
      },
      { refit: true },
    );
    return undefined;
  } catch (error) {
    if (error instanceof InputError) return error.message.replace(/^Not taken: /, '');
    throw error;
  }
}

import { computed } from '@preact/signals';
import { letterOf } from './filterEdits.js';
import { filters } from './shown.js';

/** What the filters of the design are called on the sheet, where those that are off have letters too. */
export const soundingLetters = computed(() =>
  filters.value.flatMap(({ on }, i) => (on ? [letterOf(i)] : [])),
);

/** A message about the filters of the sheet, in which they are called by its letters in place of numbers from 1. */
export function lettered(message: string): string {
  const letters = soundingLetters.value;
  return message.replace(
    /\b([Ff]ilter) (\d+)\b/g,
    (_, word: string, number: string) => `${word} ${letters[Number(number) - 1] ?? number}`,
  );
}

import { signal } from '@preact/signals';

export interface Choice<T> {
  readonly value: T;
  readonly title: string;
  /** What follows from it. */
  readonly note: string;
}

interface Question {
  readonly title: string;
  readonly choices: readonly Choice<unknown>[];
  readonly answer: (value: unknown) => void;
}

/** What the user is asked at the moment. */
export const question = signal<Question | undefined>(undefined);

/**
 * Asks the user one thing, and waits.
 *
 * @returns what was chosen; undefined where the question was sent away
 */
export function ask<T>(title: string, choices: readonly Choice<T>[]): Promise<T | undefined> {
  return new Promise((resolve) => {
    question.value = {
      title,
      choices,
      answer: (value) => {
        question.value = undefined;
        resolve(value as T | undefined);
      },
    };
  });
}

import { signal } from '@preact/signals';

/** What is being done at the moment, in words. */
export const step = signal<string | undefined>(undefined);
/** What is wrong with files or numbers; the last good result stays. */
export const problems = signal<readonly string[]>([]);
/** What was not taken in, and why; it stays until the user has seen it. */
export const refused = signal<readonly string[]>([]);
/** What was last said to the user, for a moment. */
export const notice = signal<string | undefined>(undefined);

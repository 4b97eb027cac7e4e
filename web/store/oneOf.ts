import { z } from 'zod';
import { found } from '../../src/schema/found.js';

/** One of a few words, refused with what was found and what there is. */
export const oneOf = <const T extends readonly string[]>(words: T) =>
  z.enum(words, { error: ({ input }) => `${found(input)}, expected ${words.join(', ')}` });

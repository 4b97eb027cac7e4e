import { computed } from '@preact/signals';
import type { Design } from '../../src/schema/design.js';
import { readDesign } from '../../src/schema/readDesign.js';
import { project } from './present.js';

/** The file of a design that was saved earlier, to be checked by itself. */
export const promisedFile = computed(() => project.value.files.find(({ role }) => role === 'promised'));

/** That design; undefined where there is none, or it cannot be read. */
export const promised = computed((): Design | undefined => {
  const file = promisedFile.value;
  try {
    return file && readDesign(file.content, file.name);
  } catch {
    return undefined; // the worker tells why
  }
});

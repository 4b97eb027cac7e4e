import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { boostPicture } from './boostPicture.js';
import { delayPicture } from './delayPicture.js';
import { pageAsRun, type RunWords } from './runPage.js';

/** The pages whose commands are run; their outputs and pictures are what the program makes. */
export const PAGES = ['docs/worked-example.md', 'docs/what-eq-cannot-fix.md'] as const;

/** Pictures that commands of the pages leave. */
const COPIED = {
  'geometry.svg': 'result/example/geometry/prediction.svg',
  'moving.svg': 'result/example/moving/prediction.svg',
  'before-after.svg': 'result/example/design/before-after.svg',
  'verification.svg': 'result/example/check/verification.svg',
} as const;

const DRAWN = { 'boost.svg': boostPicture, 'delay.svg': delayPicture } as const;

/**
 * The pages and pictures as the program makes them now, by path from the project's root.
 *
 * @param root the project
 * @param folder where the commands run; `fixtures` and `dist` of the project are to be found in it
 */
export async function makeDocs(root: string, folder: string, run: RunWords): Promise<Map<string, string>> {
  const made = new Map<string, string>();
  for (const page of PAGES) made.set(page, await pageAsRun(readFileSync(join(root, page), 'utf8'), run));
  for (const [name, path] of Object.entries(COPIED)) {
    made.set(`docs/pictures/${name}`, readFileSync(join(folder, path), 'utf8'));
  }
  for (const [name, draw] of Object.entries(DRAWN)) made.set(`docs/pictures/${name}`, draw());
  return made;
}

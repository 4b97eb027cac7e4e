import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { installedPackages } from './installedPackages.js';

const NOTICE = /^(licen[cs]e|notice|copying)(\.(md|txt|markdown))?$/i;

/** The licence texts of everything that is needed at run time, to go along with what is bundled from it. */
export function noticesOf(root: string): string {
  return installedPackages(root)
    .map(({ name, version, licence, author, folder }) => {
      const texts = readdirSync(folder)
        .filter((file) => NOTICE.test(file))
        .sort()
        .map((file) => readFileSync(join(folder, file), 'utf8').trim());
      const by = author === undefined ? '' : `, by ${author}`;
      const head = `${name} ${version} (${licence ?? 'no licence named'}${by})`;
      return [head, ...(texts.length > 0 ? texts : ['It comes without a text of its licence.'])].join('\n\n');
    })
    .join(`\n\n${'='.repeat(80)}\n\n`);
}

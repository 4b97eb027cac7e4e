// Runs the commands of the pages in docs/ and puts what they print and draw into them: npm run docs:refresh
import { execFile } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { exampleFolder, pageRunner } from './exampleFolder.js';
import { makeDocs } from './makeDocs.js';

const root = fileURLToPath(new URL('../../', import.meta.url));
const program = join(root, 'dist/cli/main.js');
const { folder, remove } = exampleFolder(root);
const run = pageRunner(folder, async (args) => {
  process.stderr.write(`nullwise ${args.join(' ')}\n`);
  return (await promisify(execFile)(process.execPath, [program, ...args], { cwd: folder })).stdout;
});
try {
  for (const [path, text] of await makeDocs(root, folder, run)) {
    writeFileSync(join(root, path), text);
    process.stdout.write(`${path}\n`);
  }
} finally {
  remove();
}

import { writeFileSync } from 'node:fs';
import { compileKernel } from './compileKernel.js';

const PER_LINE = 24;

const bytes = Array.from(await compileKernel());
const lines = Array.from(
  { length: Math.ceil(bytes.length / PER_LINE) },
  (_, i) => `  ${bytes.slice(i * PER_LINE, (i + 1) * PER_LINE).join(', ')},`,
);
writeFileSync(
  new URL('../../../src/fit/kernel/kernelBytes.ts', import.meta.url),
  `// Made from assembly/ by \`npm run kernel\`; not to be changed by hand.

export const KERNEL_BYTES: Uint8Array = new Uint8Array([
${lines.join('\n')}
]);
`,
);
console.log(`${bytes.length} bytes`);

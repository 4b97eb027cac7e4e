// Lists what is installed with Nullwise at run time, its licences and sizes: npm run licences
import { fileURLToPath } from 'node:url';
import { installedPackages, isPermissive } from './installedPackages.js';

const packages = installedPackages(fileURLToPath(new URL('../../../', import.meta.url)));
const megabytes = (bytes: number) => `${(bytes / 1e6).toFixed(2)} MB`.padStart(9);
const width = Math.max(...packages.map(({ name }) => name.length));
for (const { name, version, licence, bytes } of packages) {
  const mark = isPermissive(licence) ? '' : '   <- not known to be permissive';
  console.log(
    `${name.padEnd(width)}  ${version.padEnd(8)}  ${(licence ?? 'none').padEnd(12)} ${megabytes(bytes)}${mark}`,
  );
}
const total = packages.reduce((sum, { bytes }) => sum + bytes, 0);
console.log(`\n${packages.length} packages, ${megabytes(total).trim()} installed`);
if (!packages.every(({ licence }) => isPermissive(licence))) process.exitCode = 1;

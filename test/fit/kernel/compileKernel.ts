import { fileURLToPath } from 'node:url';
import { main } from 'assemblyscript/asc';

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));
const ROOT = here('../../../');
const SOURCE = 'src/fit/kernel/assembly/index.ts';

/** 112 warns of functions that hand out two numbers at once; none of them is left when all are put in place. */
const OPTIONS = ['-O3', '--converge', '--noAssert', '--runtime', 'stub', '--enable', 'simd'];

/** The bytes of the program in src/fit/kernel/assembly; throws with the compiler's words. */
export async function compileKernel(): Promise<Uint8Array> {
  let bytes: Uint8Array | undefined;
  const { error, stderr } = await main(
    [SOURCE, '--baseDir', ROOT, '--outFile', 'kernel.wasm', '--disableWarning', '112', ...OPTIONS],
    {
      writeFile: (_, contents) => {
        if (typeof contents !== 'string') bytes = contents;
      },
    },
  );
  if (error || !bytes) throw new Error(`${error?.message ?? 'nothing was written'}\n${stderr.toString()}`);
  return bytes;
}

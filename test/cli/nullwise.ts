import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';

export const program = fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url));

export interface Ended {
  readonly code: number;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs the built program as its user does. */
export function nullwise(
  args: readonly string[],
  options: { readonly cwd?: string; readonly env?: Readonly<Record<string, string>> } = {},
): Promise<Ended> {
  return new Promise((resolve, reject) => {
    execFile(
      process.execPath,
      [program, ...args],
      { encoding: 'utf8', maxBuffer: 1e8, ...options, env: { ...process.env, ...options.env } },
      (error, stdout, stderr) => {
        const code = error ? error.code : 0;
        if (typeof code === 'number') resolve({ code, stdout, stderr });
        else reject(error);
      },
    );
  });
}

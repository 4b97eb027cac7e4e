import { closeSync, openSync, readSync, renameSync, rmSync, statSync, writeSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';

const CHUNK_BYTES = 1 << 20;
const LINE_END = 10;

/**
 * Puts other lines in the place of some of a file, whole or not at all. The file is read piece by piece.
 *
 * @param lines by their number in the file, from 0
 * @throws what the file system says, and leaves the file as it was
 */
export function replaceLines(path: string, lines: ReadonlyMap<number, string>): void {
  const fresh = join(dirname(path), `.${basename(path)}.${process.pid}.new.tmp`);
  const from = openSync(path, 'r');
  let to: number | undefined;
  try {
    to = openSync(fresh, 'w', statSync(path).mode);
    copyLines(from, to, lines);
    closeSync(to);
    to = undefined;
    renameSync(fresh, path);
  } catch (error) {
    if (to !== undefined) closeSync(to);
    rmSync(fresh, { force: true });
    throw error;
  } finally {
    closeSync(from);
  }
}

function copyLines(from: number, to: number, lines: ReadonlyMap<number, string>): void {
  const chunk = Buffer.alloc(CHUNK_BYTES);
  let line = 0;
  for (let size = readSync(from, chunk); size > 0; size = readSync(from, chunk)) {
    let start = 0;
    while (start < size) {
      const at = chunk.indexOf(LINE_END, start);
      const ends = at >= 0 && at < size;
      const end = ends ? at + 1 : size;
      const other = lines.get(line);
      if (other === undefined) writeSync(to, chunk, start, end - start);
      else if (ends) writeSync(to, `${other}\n`);
      if (ends) line++;
      start = end;
    }
  }
}

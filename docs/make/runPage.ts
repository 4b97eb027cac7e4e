/** Runs one command, its words parted as a shell would, and gives what it wrote to standard output. */
export type RunWords = (words: readonly string[]) => Promise<string>;

const BLOCK = /```sh\n([\s\S]*?)```\n(\n```text(?: first (\d+))?\n)?/g;

/**
 * A page with its commands run, one block after another, and what they print put in place of what it shows.
 *
 * A block of the kind `sh` holds command lines; a block `text` right after it shows their output, or with
 * `text first 3` its first three paragraphs.
 */
export async function pageAsRun(page: string, run: RunWords): Promise<string> {
  let done = '';
  let at = 0;
  for (const match of page.matchAll(BLOCK)) {
    const [whole, commands, shows, paragraphs] = match;
    let output = '';
    for (const line of linesOf(commands!)) output += await run(wordsOf(line));
    done += page.slice(at, match.index + whole.length);
    at = match.index + whole.length;
    if (shows === undefined) continue;
    const end = page.indexOf('```', at);
    done += shown(output, paragraphs === undefined ? undefined : Number(paragraphs));
    at = end;
  }
  return done + page.slice(at);
}

/** Without comments, and with lines joined that a backslash broke. */
function linesOf(commands: string): string[] {
  return commands
    .replaceAll(/\\\n\s*/g, '')
    .split('\n')
    .map((line) => line.replace(/(^|\s)#.*$/, '').trim())
    .filter((line) => line !== '');
}

/** The words of a command line as a shell would part them; only double quotes mean something. */
export function wordsOf(line: string): string[] {
  return [...line.matchAll(/(?:"[^"]*"|[^\s"])+/g)].map(([word]) => word.replaceAll('"', ''));
}

function shown(output: string, paragraphs: number | undefined): string {
  const all = output.trimEnd().split(/\n\n/);
  const part = all.slice(0, paragraphs);
  return `${part.join('\n\n')}\n${part.length < all.length ? '\n…\n' : ''}`;
}

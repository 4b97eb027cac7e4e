/** The words of a command line as a shell would part them; only double quotes mean something. */
export function wordsOf(line: string): string[] {
  return [...line.matchAll(/(?:"[^"]*"|[^\s"])+/g)].map(([word]) => word.replaceAll('"', ''));
}

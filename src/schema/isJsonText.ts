/**
 * Whether what a file begins with is JSON, an object or a list, and no row of a curve: known by what is in it, whatever
 * the file is called.
 *
 * @param beginning of the file, or the whole text
 */
export function isJsonText(beginning: string): boolean {
  return /^\s*[{[]/.test(beginning);
}

/** Room for the longest expression that is read. */
const MAX_LENGTH = 100;

/** What was found, for a message: a number as it is, text in quotes and cut where nobody would read on. */
export function quoted(text: string | number): string {
  if (typeof text === 'number') return String(text);
  return `"${text.length > MAX_LENGTH ? `${text.slice(0, MAX_LENGTH - 1)}…` : text}"`;
}

/** "found …" for a message: the value itself where it is short, else what kind of value it is. */
export function found(input: unknown): string {
  if (input === undefined) return 'found nothing';
  if (Array.isArray(input)) return `found a list of ${input.length}`;
  if (typeof input === 'object' && input !== null) return 'found an object {…}';
  const text = JSON.stringify(input) ?? typeof input;
  return `found ${text.length > 60 ? `${text.slice(0, 59)}…` : text}`;
}

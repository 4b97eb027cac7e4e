/** At most `length` characters, an ellipsis for what was cut off; never cuts a character in two. */
export function shorten(text: string, length: number): string {
  const characters = [...text];
  return characters.length <= length
    ? text
    : `${characters
        .slice(0, length - 1)
        .join('')
        .trimEnd()}…`;
}

/** A text with the names of the characters in it that nobody sees, such as a byte-order mark between two files made one: "<U+FEFF>100". */
export function showInvisible(text: string): string {
  return text.replace(/\p{Cf}/gu, (character) => {
    const code = character.codePointAt(0)!.toString(16).toUpperCase();
    return `<U+${code.padStart(4, '0')}>`;
  });
}

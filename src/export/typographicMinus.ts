/** The hyphen before a number becomes a real minus sign, for pages and drawings (tables to be typed in keep the hyphen). */
export function typographicMinus(text: string): string {
  return text.replace(/(?<![\p{L}\p{N}])-(?=\d)/gu, '\u2212');
}

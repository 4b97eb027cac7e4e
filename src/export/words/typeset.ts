/**
 * A sentence with figures made ready for a page or a drawing: a real minus sign before a number, and no line break
 * between a number and its unit. Tables that are to be typed in keep the plain hyphen.
 */
export function typeset(text: string): string {
  return text
    .replace(/(?<![\p{L}\p{N}])-(?=\d)/gu, '\u2212')
    .replace(/(?<=\d) (?=(?:dB|k?Hz|%|[cm]?m|in|ft|octaves?)(?![\p{L}\p{N}]))/gu, '\u00a0');
}

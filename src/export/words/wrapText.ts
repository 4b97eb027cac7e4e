/**
 * Breaks a paragraph between words so that no line is wider than `width` characters (a longer word stays whole).
 * Every line but the first begins with `indent`, which counts towards the width.
 */
export function wrapText(text: string, width: number, indent = ''): string {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    const room = lines.length === 0 ? width : width - indent.length;
    if (line !== '' && line.length + 1 + word.length > room) {
      lines.push(line);
      line = word;
    } else {
      line = line === '' ? word : `${line} ${word}`;
    }
  }
  lines.push(line);
  return lines.join(`\n${indent}`);
}

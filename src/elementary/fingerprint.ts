/** 32 bits of FNV-1a over a text's UTF-16 units, as eight hexadecimal digits (Fowler, Noll and Vo; constants from memory). */
export function fingerprint(text: string): string {
  let value = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) {
    const unit = text.charCodeAt(i);
    for (const byte of [unit & 0xff, unit >> 8]) value = Math.imul(value ^ byte, 0x01000193);
  }
  return (value >>> 0).toString(16).padStart(8, '0');
}

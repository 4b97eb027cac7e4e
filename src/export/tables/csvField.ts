/** One field by RFC 4180: quoted where it holds a comma, a quote or a line end, quotes doubled. */
export function csvField(value: string): string {
  return /[",\r\n]/.test(value) ? `"${value.replaceAll('"', '""')}"` : value;
}

/** Hands a file to the user. */
export function download(name: string, content: string | Uint8Array<ArrayBuffer>, type: string): void {
  const url = URL.createObjectURL(new Blob([content], { type }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // Some browsers ask where to put it first.
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}

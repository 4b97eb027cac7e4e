export interface TextColumn {
  readonly heading: string;
  readonly cells: readonly string[];
  readonly align: 'left' | 'right';
}

/** Columns of equal length as lines of text, two spaces between them, the headings on top. */
export function padTable(columns: readonly TextColumn[]): string[] {
  const rows = Math.max(0, ...columns.map((column) => column.cells.length));
  const widths = columns.map((column) =>
    Math.max(column.heading.length, ...column.cells.map((cell) => cell.length)),
  );
  const line = (texts: readonly string[]) =>
    columns
      .map((column, i) => {
        const text = texts[i] ?? '';
        return column.align === 'left' ? text.padEnd(widths[i] ?? 0) : text.padStart(widths[i] ?? 0);
      })
      .join('  ')
      .trimEnd();
  return [
    line(columns.map((column) => column.heading)),
    ...Array.from({ length: rows }, (_, row) => line(columns.map((column) => column.cells[row] ?? ''))),
  ];
}

import type { ComponentChildren } from 'preact';

interface DataColumn {
  readonly heading: ComponentChildren;
  readonly cells: readonly ComponentChildren[];
  readonly align?: 'left' | 'right';
}

interface DataTableProps {
  /** What the table holds, for those who do not see it. */
  readonly label: string;
  readonly caption?: string;
  readonly columns: readonly DataColumn[];
}

/** A table by columns; the first cell of a row names the row. Wider than the screen it scrolls by itself. */
export function DataTable({ label, caption, columns }: DataTableProps) {
  const rows = Math.max(0, ...columns.map((column) => column.cells.length));
  const alignment = (column: DataColumn) => (column.align === 'right' ? { class: 'number' } : {});
  return (
    <section class="scroll" aria-label={label} tabindex={0}>
      <table>
        {caption === undefined ? null : <caption>{caption}</caption>}
        <thead>
          <tr>
            {columns.map((column) => (
              <th scope="col" {...alignment(column)}>
                {column.heading}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {Array.from({ length: rows }, (_, row) => (
            <tr>
              {columns.map((column, i) =>
                i === 0 ? (
                  <th scope="row" {...alignment(column)}>
                    {column.cells[row]}
                  </th>
                ) : (
                  <td {...alignment(column)}>{column.cells[row]}</td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

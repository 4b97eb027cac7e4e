import { designColumns } from '../../src/export/tables/designColumns.js';
import { typeset } from '../../src/export/words/typeset.js';
import type { Design } from '../../src/schema/design.js';

/** The filters of a design as every file has them: for an equalizer its bands, and what to enter there. */
export function FilterList(props: {
  readonly design: Design;
  readonly caption: string;
  /** What the sheet calls them, where it shows them. */
  readonly letters?: readonly string[];
}) {
  const { design, caption, letters } = props;
  const named = { heading: 'Filter', align: 'left', cells: letters ?? [] };
  const columns = [...(letters ? [named] : []), ...designColumns(design)];
  const classOf = (align: string) => (align === 'right' ? 'number' : '');
  return (
    <div class="scroll">
      <table class="numbers filter-list">
        <caption>{typeset(caption)}</caption>
        <thead>
          <tr>
            {columns.map(({ heading, align }) => (
              <th scope="col" key={heading} class={classOf(align)}>
                {heading}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {design.filters.map((_, row) => (
            <tr key={row}>
              {columns.map(({ heading, align, cells }) => (
                <td key={heading} class={classOf(align)}>
                  {typeset(cells[row] ?? '')}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

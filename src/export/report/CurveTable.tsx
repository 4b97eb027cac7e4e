import { pow2 } from '../../elementary/exponential.js';
import { log2 } from '../../elementary/logarithm.js';
import type { Design } from '../../schema/design.js';
import { frequencyDomain } from '../plot/frequencyDomain.js';
import { fixedDecimals } from '../words/fixedDecimals.js';
import { formatSignedDb } from '../words/formatDb.js';
import { smoothingWords } from '../words/smoothingWords.js';
import { typeset } from '../words/typeset.js';
import { DataTable } from './DataTable.js';

/** The plot's curves as numbers, every third of an octave about 1 kHz: the plot for those who cannot see it. */
export function CurveTable({ design }: { readonly design: Design }) {
  const { frequencyHz, smoothedDb, targetDb, eqDb } = design.curves;
  const [lowHz, highHz] = frequencyDomain(design);
  const thirds = Array.from({ length: 61 }, (_, k) => 1000 * pow2((k - 30) / 3));
  // The nearest point of the grid, if there is one within a twelfth of an octave.
  const rows = thirds.flatMap((hz) => {
    if (hz < lowHz * 0.99 || hz > highHz * 1.01) return [];
    let best = -1;
    let distance = 1 / 12;
    frequencyHz.forEach((f, i) => {
      const octaves = Math.abs(log2(f / hz));
      if (octaves < distance) [best, distance] = [i, octaves];
    });
    return best === -1 ? [] : [best];
  });
  const level = (valueAt: (i: number) => number) => rows.map((i) => typeset(fixedDecimals(valueAt(i), 1)));
  return (
    <details>
      <summary>The curves as a table</summary>
      <DataTable
        label="The curves as a table"
        caption={`Levels in dB, every third of an octave; measured and expected smoothed (${smoothingWords(design.limits.smoothingOctaves)}).`}
        columns={[
          {
            heading: 'Frequency (Hz)',
            align: 'right',
            cells: rows.map((i) => String(Number(frequencyHz[i]!.toPrecision(3)))),
          },
          { heading: 'Measured', align: 'right', cells: level((i) => smoothedDb[i]!) },
          { heading: 'Target', align: 'right', cells: level((i) => targetDb[i]!) },
          {
            heading: 'EQ',
            align: 'right',
            cells: rows.map((i) => typeset(formatSignedDb(eqDb[i]!).replace(' dB', ''))),
          },
          { heading: 'Expected', align: 'right', cells: level((i) => smoothedDb[i]! + eqDb[i]!) },
        ]}
      />
    </details>
  );
}

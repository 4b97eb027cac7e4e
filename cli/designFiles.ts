import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { beforeAfterSvg } from '../src/export/beforeAfterSvg.js';
import { coefficientsJson } from '../src/export/coefficientsJson.js';
import { designJson } from '../src/export/designJson.js';
import { filterCsv } from '../src/export/filterCsv.js';
import { filterTable } from '../src/export/filterTable.js';
import { reportHtml } from '../src/export/reportHtml.js';
import type { Design } from '../src/schema/design.js';
import { type DesignFileName, designFileNames } from './designFileNames.js';
import type { OutputFile } from './io/writeOutputs.js';

type WriteFile = (design: Design) => string;

const writers: Readonly<Record<DesignFileName, WriteFile>> = {
  'design.json': designJson,
  'filters.csv': filterCsv,
  'filters.txt': filterTable,
  'coefficients.json': coefficientsJson,
  'before-after.svg': beforeAfterSvg,
  'report.html': (design) => reportHtml(design, { plotlySource: plotlySource() }),
};

/** Everything that `--out` leaves behind. */
export function designFiles(design: Design): OutputFile[] {
  return designFileNames.map((name) => ({ name, content: writers[name](design) }));
}

/** The plot library, to be put into the report so that it opens offline. */
function plotlySource(): string {
  return readFileSync(createRequire(import.meta.url).resolve('plotly.js-dist-min/plotly.min.js'), 'utf8');
}

import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { coefficientsJson } from '../src/export/coefficients/coefficientsJson.js';
import { designJson } from '../src/export/json/designJson.js';
import { beforeAfterSvg } from '../src/export/plot/beforeAfterSvg.js';
import { reportHtml } from '../src/export/reportHtml.js';
import { filterCsv } from '../src/export/tables/filterCsv.js';
import { filterTable } from '../src/export/tables/filterTable.js';
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

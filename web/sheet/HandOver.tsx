import { useSignal } from '@preact/signals';
import { coefficientsJson } from '../../src/export/coefficients/coefficientsJson.js';
import { exportDesign, exportFormats } from '../../src/export/exportDesign.js';
import { designJson } from '../../src/export/json/designJson.js';
import { beforeAfterSvg } from '../../src/export/plot/beforeAfterSvg.js';
import { reportHtml } from '../../src/export/reportHtml.js';
import { filterCsv } from '../../src/export/tables/filterCsv.js';
import { filterTable } from '../../src/export/tables/filterTable.js';
import { summaryText } from '../../src/export/text/summaryText.js';
import { cautions } from '../../src/export/words/cautions.js';
import { type QConventionName, qConventionNames } from '../../src/filter/qConventions.js';
import { InputError } from '../../src/inputError.js';
import type { Design } from '../../src/schema/design.js';
import { readExportOptions } from '../../src/schema/exportOptions.js';
import { withUnitEngine } from '../../src/units/withUnitEngine.js';
import { plotlySource } from '../platform/served.js';
import { curveDue, outcome, verified } from '../state/found.js';
import { complete, filterProblem, isBehind, shown, worksheetName } from '../state/shown.js';
import { notice, step } from '../state/told.js';
import { download } from './download.js';
import { fileStem } from './fileStem.js';
import { Step } from './Step.js';

const JSON_TYPE = 'application/json';

interface Handed {
  readonly name: string;
  readonly words: string;
  readonly type: string;
  readonly make: (design: Design) => string | Promise<string>;
}

/** What the command line leaves with --out. */
const FILES: readonly Handed[] = [
  { name: 'design.json', words: 'the whole design', type: JSON_TYPE, make: designJson },
  { name: 'report.html', words: 'to read, print and pass on', type: 'text/html', make: report },
  { name: 'filters.txt', words: 'the filters as a table', type: 'text/plain', make: filterTable },
  { name: 'filters.csv', words: 'for a spreadsheet', type: 'text/csv', make: filterCsv },
  { name: 'coefficients.json', words: 'biquad coefficients', type: JSON_TYPE, make: coefficientsJson },
  { name: 'before-after.svg', words: 'a drawing', type: 'image/svg+xml', make: beforeAfterSvg },
];

async function report(design: Design): Promise<string> {
  return reportHtml(design, { plotlySource: await plotlySource(), generatedBy: 'Nullwise' });
}

const FORMATS: Readonly<Record<string, readonly [string, string]>> = {
  table: ['table', 'txt'],
  markdown: ['table in Markdown', 'md'],
  csv: ['CSV', 'csv'],
  json: ['filters in JSON', 'json'],
  'coefficients-json': ['coefficients in JSON', 'json'],
  'coefficients-csv': ['coefficients in CSV', 'csv'],
  'c-header': ['coefficients as a C header', 'h'],
  hex: ['coefficients in hexadecimal', 'hex'],
  'fir-minimum-phase': ['finite filter, minimum phase (WAV)', 'wav'],
  'fir-linear-phase': ['finite filter, linear phase (WAV)', 'wav'],
};

/** Files, tables, paper. */
export function HandOver() {
  const design = complete.value;
  const waiting =
    design === undefined ||
    step.value !== undefined ||
    curveDue.value ||
    isBehind.value ||
    filterProblem.value !== undefined;
  const save = async ({ name, type, make }: Handed) => {
    if (!design) return;
    try {
      download(name, await make(design), type);
    } catch (error) {
      notice.value = `${name} could not be made: ${error instanceof Error ? error.message : String(error)}`;
    }
  };
  const copy = async (text: string) => {
    try {
      await navigator.clipboard.writeText(text);
      notice.value = 'Copied.';
    } catch {
      notice.value = 'This browser does not let the page copy; save it as a file instead.';
    }
  };
  return (
    <Step id="hand-over" title="Hand it over" lead={leadOf(waiting, design === undefined)}>
      <ul class="handed">
        {FILES.map((file) => (
          <li key={file.name}>
            <button type="button" disabled={waiting} onClick={() => void save(file)}>
              {file.name}
            </button>
            <span class="soft">{file.words}</span>
          </li>
        ))}
      </ul>
      <div class="row">
        <button type="button" disabled={waiting} onClick={() => design && void copy(filterTable(design))}>
          Copy the filters as a table
        </button>
        <button type="button" disabled={waiting} onClick={() => design && void copy(summaryText(design))}>
          Copy the summary
        </button>
        <button
          type="button"
          disabled={waiting && !(design === undefined && verified.value)}
          onClick={() => print()}
        >
          Print this sheet
        </button>
      </div>
      <OtherForms waiting={waiting} />
      <details class="cautions" open>
        <summary>Before you switch it in</summary>
        <dl>
          {cautions.map(({ title, text }) => (
            <div key={title}>
              <dt>{title}</dt>
              <dd>{text}</dd>
            </div>
          ))}
        </dl>
      </details>
    </Step>
  );
}

function leadOf(waiting: boolean, isEmpty: boolean): string {
  if (isBehind.value)
    return 'What is shown is from before the last change, so nothing of it is handed over: see at the top how to go on.';
  if (filterProblem.value !== undefined)
    return 'The filters as they are set cannot be made, so nothing is handed over: see at the top what stands in the way.';
  if (isEmpty && step.value === undefined)
    return 'The files can be saved here once filters have been fitted.';
  if (waiting) return 'Ready when the search has ended.';
  return outcome.value?.whole === false
    ? 'The search was stopped early: what you hand over is a first look.'
    : 'The same files as from the command line.';
}

const nameOf = (field: string) =>
  ({
    qConvention: 'What Q means',
    sampleRate: 'Sample rates',
    feedbackSign: 'Feedback sign',
    order: 'Order',
    fixedPoint: 'Number format',
    taps: 'Taps',
  })[field] ?? field;

function OtherForms({ waiting }: { readonly waiting: boolean }) {
  const format = useSignal('markdown');
  const convention = useSignal('');
  const sign = useSignal('');
  const typed = useSignal<Readonly<Record<string, string>>>({});
  const problem = useSignal<string | undefined>(undefined);
  const notes = useSignal<readonly string[]>([]);
  const chosen = format.value;
  const isListing = ['table', 'markdown', 'csv', 'json'].includes(chosen);
  const isFir = chosen.startsWith('fir');
  const fields = isListing
    ? []
    : isFir
      ? (['sampleRate', 'taps'] as const)
      : (['sampleRate', 'order', 'fixedPoint'] as const);
  const hints = {
    sampleRate: 'such as 44100, 48000',
    taps: '16384',
    order: 'b0,b1,b2,a1,a2',
    fixedPoint: 'such as 5.23',
  };
  async function save() {
    const design = shown.peek();
    if (!design) return;
    try {
      const made = await withUnitEngine(() => {
        const written = Object.fromEntries(
          fields.flatMap((field) => {
            const text = typed.peek()[field]?.trim() ?? '';
            if (text === '') return [];
            return [[field, field === 'sampleRate' ? text.split(/[,;]\s*/) : text]];
          }),
        );
        return exportDesign(
          design,
          {
            format: chosen,
            ...readExportOptions(written, nameOf),
            ...(isListing &&
              convention.peek() !== '' && { qConvention: convention.peek() as QConventionName }),
            ...(!isListing &&
              !isFir &&
              sign.peek() !== '' && { feedbackSign: sign.peek() as 'added' | 'subtracted' }),
          },
          nameOf,
        );
      });
      problem.value = undefined;
      notes.value = made.notes;
      const extension = FORMATS[chosen]?.[1] ?? 'txt';
      for (const { suffix, content } of made.files) {
        const bytes = typeof content === 'string' ? content : new Uint8Array(content);
        download(
          `${fileStem(worksheetName.peek())}${suffix}.${extension}`,
          bytes,
          'application/octet-stream',
        );
      }
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      problem.value = error.message;
    }
  }
  return (
    <details>
      <summary>Other forms</summary>
      <div class="fields">
        <div class="field">
          <label for="form">Form</label>
          <select
            id="form"
            value={chosen}
            onChange={({ currentTarget }) => {
              format.value = currentTarget.value;
              problem.value = undefined;
              notes.value = [];
            }}
          >
            {exportFormats.map((name) => (
              <option key={name} value={name}>
                {FORMATS[name]?.[0] ?? name}
              </option>
            ))}
          </select>
        </div>
        {isListing && (
          <div class="field">
            <label for="convention">What Q means</label>
            <select
              id="convention"
              value={convention.value}
              onChange={({ currentTarget }) => {
                convention.value = currentTarget.value;
              }}
            >
              <option value="">as the equalizer has it</option>
              {qConventionNames.map((name) => (
                <option key={name} value={name}>
                  {name}
                </option>
              ))}
            </select>
          </div>
        )}
        {!isListing && !isFir && (
          <div class="field">
            <label for="sign">Feedback sign</label>
            <select
              id="sign"
              value={sign.value}
              onChange={({ currentTarget }) => {
                sign.value = currentTarget.value;
              }}
            >
              <option value="">as the equalizer has it</option>
              <option value="subtracted">subtracted</option>
              <option value="added">added</option>
            </select>
          </div>
        )}
        {fields.map((field) => (
          <div class="field" key={field}>
            <label for={`form-${field}`}>{nameOf(field)}</label>
            <input
              id={`form-${field}`}
              type="text"
              autocomplete="off"
              placeholder={hints[field]}
              value={typed.value[field] ?? ''}
              onInput={({ currentTarget }) => {
                typed.value = { ...typed.peek(), [field]: currentTarget.value };
              }}
            />
          </div>
        ))}
      </div>
      <button type="button" disabled={waiting} onClick={() => void save()}>
        Save in this form
      </button>
      {problem.value && (
        <p class="bad" role="alert">
          {problem.value}
        </p>
      )}
      {notes.value.map((note) => (
        <p class="soft" key={note}>
          {note}
        </p>
      ))}
    </details>
  );
}

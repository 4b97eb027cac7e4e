import { basename, dirname, extname } from 'node:path';
import { type Command, Option } from 'commander';
import {
  DEFAULT_TAPS,
  type ExportRequest,
  exportDesign,
  exportFormats,
} from '../../src/export/exportDesign.js';
import { qConventionNames } from '../../src/filter/qConventions.js';
import { InputError } from '../../src/inputError.js';
import { readExportOptions } from '../../src/schema/exportOptions.js';
import { checkFileName } from '../filePlan.js';
import { helpText } from '../helpText.js';
import { readCorrectionFile } from '../io/readDesignFile.js';
import { openTerminal } from '../io/terminal.js';
import { writeOutputs } from '../io/writeOutputs.js';
import { optionName } from '../options.js';

interface ExportFlags extends Pick<ExportRequest, 'format' | 'qConvention' | 'feedbackSign'> {
  readonly sampleRate?: readonly string[];
  readonly fixedPoint?: string;
  readonly order?: string;
  readonly taps?: string;
  readonly out?: string;
  readonly force?: boolean;
  readonly quiet?: boolean;
}

const HELP = helpText({
  takes:
    'the design.json of a fit, or as much of one as the filters need: schemaVersion, sampleRateHz, inputGainDb, filters.',
  gives:
    'the filters in the form that --format names, on standard output or in the file that --out names; fir-… is a WAV file and needs --out.',
  notes: [
    'What belongs to a device (Q convention, number format, sign, order) is taken from the design where it was made for one. Every listing says what its Q means.',
    'The names in a C header hold the title of the design: headers of designs with other titles (fit --title) go into one program.',
  ],
  caution:
    'equalizers differ in what they call Q and in the sign of the feedback: enter one filter, check it, and start quietly.',
  examples: [
    'nullwise export result/design.json --format markdown',
    'nullwise export result/design.json --format csv --q-convention bandwidthOctaves --out filters.csv',
    'nullwise export result/design.json --format c-header --sample-rate 48000 --sample-rate 96000 --out filters.h',
    'nullwise export result/design.json --format hex --fixed-point 5.23 --feedback-sign added',
    'nullwise export result/design.json --format fir-minimum-phase --taps 8192 --out correction.wav',
  ],
});

/** `nullwise export`: a design in a form to be entered, compiled or loaded elsewhere. */
export function addExport(program: Command): void {
  program
    .command('export')
    .summary('write a design as table, coefficients or finite filter')
    .description('Writes the filters of a design in another form. Every one of them says what its Q means.')
    .argument('<design>', 'design.json of a fit')
    .addOption(new Option('--format <name>', 'what to write').choices(exportFormats).makeOptionMandatory())
    .addOption(
      new Option('--q-convention <name>', 'what the Q of a listing means').choices([...qConventionNames]),
    )
    .option(
      '--sample-rate <frequency>',
      "rate of coefficients or taps; may be repeated (default: the design's)",
      (value: string, earlier: readonly string[] = []) => [...earlier, value],
    )
    .addOption(
      new Option(
        '--feedback-sign <sign>',
        'whether a1 and a2 are subtracted or added (default: subtracted)',
      ).choices(['subtracted', 'added']),
    )
    .option('--order <names>', 'order of the coefficients (default: b0,b1,b2,a1,a2)')
    .option('--fixed-point <i.f>', 'number format: integer bits with the sign, fraction bits, such as 5.23')
    .option('--taps <n>', `length of a finite filter (default: ${DEFAULT_TAPS})`)
    .option('--out <file>', 'write there instead of printing')
    .option('--force', 'overwrite the file')
    .option('--quiet', 'print nothing but the result and errors')
    .addHelpText('after', HELP)
    .action((designPath: string, flags: ExportFlags) => runExport(designPath, flags));
}

function runExport(designPath: string, flags: ExportFlags): void {
  const { format, qConvention, feedbackSign, sampleRate, fixedPoint, order, taps, out } = flags;
  const written = Object.entries({ sampleRate, fixedPoint, order, taps }).filter(
    ([, value]) => value !== undefined,
  );
  if (out !== undefined) checkFileName(out);
  const options = readExportOptions(Object.fromEntries(written), optionName);
  const request: ExportRequest = {
    format,
    ...options,
    ...(qConvention && { qConvention }),
    ...(feedbackSign && { feedbackSign }),
  };
  const terminal = openTerminal({ quiet: Boolean(flags.quiet) });
  const { files, notes } = exportDesign(readCorrectionFile(designPath), request, optionName);

  if (out === undefined) {
    for (const { content } of files) {
      if (typeof content !== 'string') {
        throw new InputError(`--out: found nothing, expected a file, since ${format} is no text`);
      }
      openTerminal({}).result(content);
    }
  } else {
    const extension = extname(out);
    const stem = basename(out, extension);
    const named = files.map(({ suffix, content }) => ({ name: `${stem}${suffix}${extension}`, content }));
    writeOutputs(
      { folder: dirname(out), asked: out, overwrite: Boolean(flags.force), inputs: [designPath] },
      named,
    );
    terminal.message(`Wrote ${named.map(({ name }) => name).join(', ')} to ${dirname(out)}`);
  }
  for (const note of notes) terminal.message(note);
}

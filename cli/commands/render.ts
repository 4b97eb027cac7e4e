import { type Command, Option } from 'commander';
import type { Dither } from '../../src/export/audio/triangularDither.js';
import type { WavSampleFormat } from '../../src/measurement/wavWriter.js';
import { checkFiles, writeFiles } from '../filePlan.js';
import { helpText } from '../helpText.js';
import { readCorrectionFile } from '../io/readDesignFile.js';
import { readInputBytes } from '../io/readInput.js';
import { openTerminal } from '../io/terminal.js';
import { addOutputOptions, type OutputFlags } from '../options.js';

interface RenderFlags extends OutputFlags {
  readonly format?: WavSampleFormat;
  readonly dither: Dither;
  readonly force?: boolean;
}

const HELP = helpText({
  takes: 'the design.json of a fit, and a WAV file at the sample rate of the design.',
  gives: 'the same audio through the filters, with the input gain of the design so that no boost clips.',
  notes: [
    'PCM is rounded to its nearest step, without dither unless --dither triangular is given: worth it where 24 bits or float become 16. Texts about the recording (LIST/INFO) and marks in time (cue, LIST/adtl) are taken over; other chunks are not, since what they say of levels would no longer be true.',
  ],
  caution: 'compare at equal loudness, and start quietly.',
  examples: [
    'nullwise render result/design.json music.wav corrected.wav',
    'nullwise render result/design.json music.wav corrected.wav --format float32 --json',
    'nullwise render result/design.json music.wav corrected.wav --format pcm16 --dither triangular',
  ],
});

/** `nullwise render`: audio through a design, for listening before anything is programmed. */
export function addRender(program: Command): void {
  const command = program
    .command('render')
    .summary('run audio through a design, for listening')
    .description('Runs every channel of a WAV file through the filters of a design.')
    .argument('<design>', 'design.json of a fit')
    .argument('<in>', 'WAV file to read')
    .argument('<out>', 'WAV file to write')
    .addOption(
      new Option('--format <name>', 'sample format (default: that of the input)').choices([
        'pcm16',
        'pcm24',
        'pcm32',
        'float32',
        'float64',
      ]),
    )
    .addOption(
      new Option('--dither <kind>', 'noise ahead of the rounding to PCM, the same each time')
        .choices(['none', 'triangular'])
        .default('none'),
    )
    .option('--force', 'overwrite the file to write');
  addOutputOptions(command)
    .addHelpText('after', HELP)
    .action(async (designPath: string, input: string, output: string, flags: RenderFlags) => {
      const terminal = openTerminal(flags);
      const terms = {
        overwrite: Boolean(flags.force),
        inputs: [designPath, input],
      };
      checkFiles([output], terms);
      const design = readCorrectionFile(designPath);
      const bytes = readInputBytes(input, 'a WAV file');
      terminal.progress('Rendering …');
      const { renderWav } = await import('../../src/export/audio/renderWav.js');
      const { renderText } = await import('../../src/export/text/renderText.js');
      const { bytes: content, report } = renderWav(design, bytes, input, flags.format, flags.dither);
      writeFiles([{ path: output, content }], terms);
      const json = { schemaVersion: 1, file: output, ...report };
      terminal.result(flags.json ? JSON.stringify(json, null, 2) : renderText(report, output));
    });
}

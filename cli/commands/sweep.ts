import { type Command, Option } from 'commander';
import { stableJson } from '../../src/export/json/stableJson.js';
import { sweepText } from '../../src/export/text/sweepText.js';
import { sweepSignal } from '../../src/impulse/sweep/exponentialSweep.js';
import type { WavSampleFormat } from '../../src/measurement/wavWriter.js';
import { writeWav } from '../../src/measurement/wavWriter.js';
import { sweepReport } from '../../src/pipeline/sweepReport.js';
import { sweepSchema } from '../../src/schema/sweep.js';
import { checkFileName, checkFiles, writeFiles } from '../filePlan.js';
import { helpText } from '../helpText.js';
import { openTerminal } from '../io/terminal.js';
import { addOutputOptions, type OutputFlags } from '../options.js';
import { addSweepOptions, readSweepOptions, type SweepFlags } from '../sweepOptions.js';

interface SweepCommandFlags extends OutputFlags, SweepFlags {
  readonly format: WavSampleFormat;
  readonly force?: boolean;
}

const HELP = helpText({
  takes: 'the name of the WAV file to write.',
  gives:
    'an exponential sine sweep as WAV, and beside it a file of the same name that ends in .json, which holds what nullwise deconvolve needs to know.',
  notes: [
    'Play it through the speaker and record it with the measurement microphone, in one go, for longer than it lasts; then give the recording to nullwise deconvolve.',
    'One device had better play and record: the clocks of two run apart, which smears delay and phase, the more the longer the sweep lasts. Switch off whatever changes the level or the tone by itself on the way (automatic gain, noise suppression).',
  ],
  caution:
    'start with the volume right down, protect your hearing, and stay within what the maker of the speaker allows: tweeters stand the least, and below the lowest note it is made for its cone moves far.',
  examples: [
    'nullwise sweep sweep.wav',
    'nullwise sweep gentle.wav --from "40 Hz" --length "20 s" --level "-18 dB"',
  ],
});

/** `nullwise sweep`: a signal to measure with. */
export function addSweep(program: Command): void {
  const command = program
    .command('sweep')
    .summary('write a sweep to measure with')
    .description('Writes an exponential sine sweep as WAV, and its parameters beside it.')
    .argument('<out.wav>', 'WAV file to write');
  addOutputOptions(
    addSweepOptions(command, { length: 'default: 10 s', sampleRate: '48 kHz' })
      .addOption(
        new Option('--format <name>', 'sample format')
          .choices(['pcm16', 'pcm24', 'pcm32', 'float32', 'float64'])
          .default('pcm24'),
      )
      .option('--force', 'overwrite files that are there'),
  )
    .addHelpText('after', HELP)
    .action((path: string, flags: SweepCommandFlags) => {
      const terminal = openTerminal(flags);
      checkFileName(path);
      const parameters = readSweepOptions(flags);
      const report = sweepReport(parameters);
      const json = stableJson(sweepSchema.parse(report));
      const besides = `${path.replace(/\.wave?$/i, '')}.json`;
      const terms = { overwrite: Boolean(flags.force), inputs: [] };
      checkFiles([path, besides], terms);
      terminal.progress('Writing …');
      const { bytes } = writeWav({
        channels: [sweepSignal(parameters)],
        sampleRateHz: parameters.sampleRateHz,
        format: flags.format,
      });
      writeFiles(
        [
          { path, content: bytes },
          { path: besides, content: json },
        ],
        terms,
      );
      terminal.result(flags.json ? json : sweepText(report));
      terminal.message(`\nWrote ${path} and ${besides}`);
    });
}

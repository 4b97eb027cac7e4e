import type { Command } from 'commander';
import { stableJson } from '../../src/export/json/stableJson.js';
import { deconvolutionText } from '../../src/export/text/deconvolutionText.js';
import { soundsLikeWire } from '../../src/impulse/sweep/soundsLikeWire.js';
import { type SweepParameters, sweepParameters } from '../../src/impulse/sweep/sweepParameters.js';
import { InputError } from '../../src/inputError.js';
import { inChannel } from '../../src/measurement/inChannel.js';
import { inFile } from '../../src/measurement/inFile.js';
import { sweptComment } from '../../src/measurement/sweptSpan.js';
import { writeWav } from '../../src/measurement/wavWriter.js';
import { titleOf } from '../../src/pipeline/titleOf.js';
import { deconvolutionSchema } from '../../src/schema/deconvolution.js';
import { readSweep } from '../../src/schema/sweep.js';
import { parseTimeS } from '../../src/units/parseTimeS.js';
import type { Warning } from '../../src/warning.js';
import { checkFiles, writeFiles } from '../filePlan.js';
import { helpText } from '../helpText.js';
import { wholeNumber } from '../impulseOptions.js';
import { type OpenWavFile, withWavFile } from '../io/openWavFile.js';
import { readInputText } from '../io/readInput.js';
import { openTerminal, type Terminal } from '../io/terminal.js';
import { addOutputOptions, type OutputFlags } from '../options.js';
import { readTitle } from '../readTitle.js';
import { addSweepOptions, describesSweep, readSweepOptions, type SweepFlags } from '../sweepOptions.js';

interface DeconvolveFlags extends OutputFlags, SweepFlags {
  readonly sweep?: string;
  readonly channel?: string;
  readonly orders: string;
  readonly response?: string;
  readonly title?: string;
  readonly out?: string;
  readonly force?: boolean;
}

const RECORDING = 'a recording of a sweep as WAV';
const SWEEP = 'the parameters of a sweep in JSON, as nullwise sweep leaves them';

const HELP = helpText({
  takes:
    'a recording of a sweep as WAV, longer than the sweep, and what the sweep was: the file that nullwise sweep left beside it, or the same options as there.',
  gives:
    'how clean the recording is and its distortion by harmonic order; with --out the impulse response as WAV of 32-bit floats, for response, diagnose and fit.',
  notes: [
    'The noise is taken from the silence before the sweep, and from that after it once the room has fallen silent: let the recording run a little before and two seconds after.',
  ],
  examples: [
    'nullwise deconvolve recording.wav --sweep sweep.json --out impulse.wav',
    'nullwise deconvolve recording.wav --length "2 s" --from "20 Hz" --to "20 kHz" --json',
  ],
});

/** `nullwise deconvolve`: from a recorded sweep to an impulse response. */
export function addDeconvolve(program: Command): void {
  const command = program
    .command('deconvolve')
    .summary('turn a recorded sweep into an impulse response')
    .description(
      'Recovers the impulse response from a recording of a sweep, and the distortion by harmonic order.',
    )
    .argument('<recording.wav>', 'recording of the sweep, longer than the sweep itself')
    .option('--sweep <file>', 'parameters of the sweep, as nullwise sweep leaves them');
  addOutputOptions(
    addSweepOptions(command, { length: 'needed without --sweep', sampleRate: "the recording's" })
      .option('--channel <n>', 'which channel, counted from 1 (default: the first)')
      .option('--orders <n>', 'harmonic orders to separate, the linear response counting as the first', '5')
      .option('--response <time>', 'length of the response to keep (default: up to 2 s)')
      .option('--title <text>', 'what to call it (default: the file name)', readTitle)
      .option('--out <file>', 'leave the impulse response there, as WAV of 32-bit floats')
      .option('--force', 'overwrite a file that is there'),
  )
    .addHelpText('after', HELP)
    .action(async (path: string, flags: DeconvolveFlags) => {
      const terminal = openTerminal(flags);
      const orders = wholeNumber('--orders', flags.orders, 1, 10);
      const responseS = flags.response === undefined ? undefined : parseTimeS(flags.response, '--response');
      const channel =
        flags.channel === undefined ? undefined : wholeNumber('--channel', flags.channel, 1, 65535);
      const terms = {
        overwrite: Boolean(flags.force),
        inputs: [path, flags.sweep].filter((file) => file !== undefined),
      };
      if (flags.out !== undefined) checkFiles([flags.out], terms);
      const { deconvolutionReport } = await import('../../src/pipeline/deconvolutionReport.js');
      const { impulse, report } = withWavFile(path, RECORDING, channel, (file) => {
        const sweep = sweepOf(flags, file.sampleRateHz);
        checkRate(path, sweep, file);
        const { impulse, report } = inChannel(file.channel, () =>
          deconvolutionReport({
            title: flags.title ?? titleOf([{ fileName: path, comments: [] }]),
            recording: file.source,
            sweep,
            orders,
            ...(responseS !== undefined && { responseS }),
            progress: tenths(terminal),
            warnings: file.warnings,
          }),
        );
        const warnings = [...firstChannel(file, soundsLikeWire(impulse)), ...report.warnings];
        return { impulse, report: { ...report, warnings } };
      });
      if (flags.out !== undefined) {
        const { sampleRateHz, samples, swept } = impulse;
        const { bytes } = writeWav({
          channels: [samples],
          sampleRateHz,
          format: 'float32',
          ...(swept && { comment: sweptComment(swept) }),
        });
        writeFiles([{ path: flags.out, content: bytes }], terms);
      }
      terminal.result(flags.json ? stableJson(deconvolutionSchema.parse(report)) : deconvolutionText(report));
      terminal.message(
        flags.out === undefined
          ? '\nThe impulse response was not kept; --out <file> leaves it.'
          : `\nWrote ${flags.out}`,
      );
    });
}

function sweepOf(flags: DeconvolveFlags, sampleRateHz: number): SweepParameters {
  if (flags.sweep !== undefined) {
    if (describesSweep(flags))
      throw new InputError('--sweep: found together with options of a sweep, expected one or the other');
    const { sweep } = flags;
    const written = readSweep(readInputText(sweep, SWEEP), sweep, SWEEP);
    return inFile(sweep, () => sweepParameters(written));
  }
  if (flags.length === undefined)
    throw new InputError(
      'found nothing that tells which sweep was recorded, expected --sweep <file>, or --length and what else was given to nullwise sweep',
    );
  return readSweepOptions(flags, { sampleRateHz });
}

function checkRate(path: string, sweep: SweepParameters, { sampleRateHz }: OpenWavFile): void {
  if (sweep.sampleRateHz === sampleRateHz) return;
  throw new InputError(
    `${path}: found a sample rate of ${sampleRateHz} Hz, expected that of the sweep, ${sweep.sampleRateHz} Hz`,
  );
}

function firstChannel(
  { channel: { fileName, channelCount, channelNumber } }: OpenWavFile,
  isWire: boolean,
): readonly Warning[] {
  if (channelNumber !== undefined || channelCount === 1) return [];
  const which = isWire
    ? 'It holds the sweep as a wire passes it on, without speaker and room: where that is the loop-back, take the microphone with --channel 2'
    : 'Say which one with --channel if it is another';
  return [
    {
      code: 'first-channel-used',
      message: `${fileName} has ${channelCount} channels; the first was used. ${which}.`,
    },
  ];
}

/** Says every tenth of the way once. */
function tenths(terminal: Terminal): (share: number) => void {
  let said = -1;
  return (share) => {
    const tenth = Math.floor(share * 10);
    if (tenth <= said) return;
    said = tenth;
    terminal.progress(`Deconvolving … ${tenth * 10} %`);
  };
}

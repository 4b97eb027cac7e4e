import type { Command } from 'commander';
import type { Setup } from '../../src/acoustics/setup.js';
import { responseJson } from '../../src/export/json/responseJson.js';
import { measurementText } from '../../src/export/tables/measurementText.js';
import { responseText } from '../../src/export/text/responseText.js';
import { joinWords } from '../../src/export/words/joinWords.js';
import type { ImpulseResponse } from '../../src/impulse/samples/impulseResponse.js';
import { InputError } from '../../src/inputError.js';
import { inChannel } from '../../src/measurement/inChannel.js';
import type { MeasurementReading } from '../../src/measurement/readMeasurement.js';
import { titleOf } from '../../src/pipeline/titleOf.js';
import type { ResponseReport } from '../../src/schema/response.js';
import { parseFrequencyHz } from '../../src/units/parseFrequencyHz.js';
import { parseSmoothing } from '../../src/units/parseSmoothing.js';
import { readNumber } from '../../src/units/readNumber.js';
import { checkFiles, writeFiles } from '../filePlan.js';
import { gather } from '../gather.js';
import { helpText } from '../helpText.js';
import { addImpulseOptions, type ImpulseFlags, impulseReading } from '../impulseOptions.js';
import { type ReadCurve, readCalibrationFile, readImpulseFile, readSetupFile } from '../io/readFiles.js';
import { openTerminal } from '../io/terminal.js';
import { addOutputOptions, type OutputFlags } from '../options.js';
import { readTitle } from '../readTitle.js';

interface ResponseFlags extends OutputFlags, ImpulseFlags {
  readonly mergeAt?: string;
  readonly cycles?: string;
  readonly smoothing?: string;
  readonly calibration?: string;
  readonly setup?: string;
  readonly title?: string;
  readonly out?: string;
  readonly room?: string;
  readonly energy?: string;
  readonly force?: boolean;
}

const HELP = helpText({
  takes: 'an impulse response as WAV, such as nullwise deconvolve leaves.',
  gives:
    'when the direct sound arrives, the reflections after it, the noise, and what is resolved; with --out the curve as a measurement that fit and diagnose read, and whose limits they heed.',
  notes: [
    'The gate keeps the direct sound and shuts out what comes later. A gate of length T resolves nothing below 1/T.',
  ],
  examples: [
    'nullwise response impulse.wav',
    'nullwise response impulse.wav --gate "5 ms" --out speaker.txt --room room.txt',
    'nullwise response impulse.wav --energy energy.svg',
    'nullwise response impulse.wav --merge-at "400 Hz" --smoothing 1/12 --out whole.txt',
    'nullwise response impulse.wav --cycles 6 --calibration microphone.txt --json',
  ],
});

/** `nullwise response`: from an impulse response to a frequency response. */
export function addResponse(program: Command): void {
  const command = program
    .command('response')
    .summary('turn an impulse response into a curve')
    .description(
      'Finds the direct sound and the reflections in an impulse response, and gives its frequency response.',
    )
    .argument('<impulse.wav>', 'impulse response, WAV of 16 to 32 bits or float');
  addOutputOptions(
    addImpulseOptions(command, 'auto')
      .option('--merge-at <frequency>', 'gated above, without a gate below, levels matched where they meet')
      .option('--cycles <n>', 'instead of a gate a window of so many periods at each frequency')
      .option('--smoothing <1/n>', 'smooth the curve over a fraction of an octave (default: none)')
      .option('--calibration <file>', 'deviation of the microphone, taken off the curve')
      .option('--setup <file>', 'for the temperature, and the distance from speaker to microphone')
      .option('--title <text>', 'what to call it (default: the file name)', readTitle)
      .option('--out <file>', 'leave the curve there, as a measurement')
      .option(
        '--room <file>',
        'leave there what the room adds: all of the recording over what the gate lets through',
      )
      .option(
        '--energy <file>',
        'leave there how the energy arrives over time: rows of time and level, or a drawing where the name ends in .svg',
      )
      .option('--force', 'overwrite files that are there'),
  )
    .addHelpText('after', HELP)
    .action(async (path: string, flags: ResponseFlags) => {
      const terminal = openTerminal(flags);
      const { channel, ...request } = readRequest(path, flags);
      const outputs = [flags.out, flags.room, flags.energy].filter((file) => file !== undefined);
      const terms = {
        overwrite: Boolean(flags.force),
        inputs: [path, flags.calibration, flags.setup].filter((file) => file !== undefined),
      };
      checkFiles(outputs, terms);
      terminal.progress('Finding the direct sound …');
      const { responseReport } = await import('../../src/pipeline/responseReport.js');
      const report = inChannel(channel, () => responseReport(request));
      if (flags.room !== undefined && !report.room)
        throw new InputError(
          `--room: found no strong reflection in ${path}, so nothing was gated off; expected a --gate <time>`,
        );
      const parts = [
        [flags.out, 'curve'],
        [flags.room, 'room'],
      ] as const;
      const curves = parts.flatMap(([file, part]) =>
        file === undefined ? [] : [{ path: file, content: measurementText(report, part) }],
      );
      writeFiles([...curves, ...(await energyFile(flags.energy, request.impulse, report))], terms);
      terminal.result(flags.json ? responseJson(report) : responseText(report));
      if (outputs.length > 0) terminal.message(`\nWrote ${joinWords(outputs)}`);
    });
}

/** The energy-time curve, by the ending of the file's name. */
async function energyFile(path: string | undefined, impulse: ImpulseResponse, report: ResponseReport) {
  if (path === undefined) return [];
  const { energyTimeCurve } = await import('../../src/impulse/arrivals/energyTimeCurve.js');
  const curve = energyTimeCurve(impulse, { arrivalS: report.arrivalS });
  if (!/\.svg$/i.test(path)) {
    const { energyTimeCsv } = await import('../../src/export/tables/energyTimeCsv.js');
    return [{ path, content: energyTimeCsv(curve) }];
  }
  const { energyTimeSvg } = await import('../../src/export/plot/energyTimeSvg.js');
  return [{ path, content: energyTimeSvg(report, curve) }];
}

function readRequest(path: string, flags: ResponseFlags) {
  let reading: MeasurementReading = {};
  let mergeAtHz: number | undefined;
  let cycles: number | undefined;
  let smoothingOctaves = 0;
  let calibration: ReadCurve | undefined;
  let setup: Setup | undefined;
  let read: ReturnType<typeof readImpulseFile> | undefined;
  gather([
    () => {
      reading = impulseReading(flags);
    },
    () => {
      if (flags.mergeAt !== undefined) mergeAtHz = parseFrequencyHz(flags.mergeAt, '--merge-at');
    },
    () => {
      if (flags.cycles !== undefined) cycles = periods(flags.cycles);
    },
    () => {
      if (flags.smoothing !== undefined) smoothingOctaves = parseSmoothing(flags.smoothing, '--smoothing');
    },
    () => {
      if (flags.cycles !== undefined && (flags.mergeAt !== undefined || flags.gate !== undefined))
        throw new InputError('--cycles: found together with a gate or --merge-at, expected one of them');
      if (flags.mergeAt !== undefined && flags.gate === false)
        throw new InputError('--merge-at: found together with --no-gate, expected a gate');
      if (flags.room !== undefined && (flags.gate === false || flags.cycles !== undefined))
        throw new InputError('--room: found no gate, expected one: the room is what the gate shuts out');
      const files = [flags.out, flags.room, flags.energy].filter((file) => file !== undefined);
      if (new Set(files).size < files.length)
        throw new InputError('--out, --room, --energy: found one file twice, expected one for each');
    },
    () => {
      if (flags.calibration !== undefined) calibration = readCalibrationFile(flags.calibration);
    },
    () => {
      if (flags.setup !== undefined) setup = readSetupFile(flags.setup);
    },
    () => {
      read = readImpulseFile(path, reading.channel);
    },
  ]);
  const { impulse, warnings, channel } = read!;
  return {
    channel,
    title: flags.title ?? titleOf([{ fileName: path, comments: [] }]),
    impulse,
    warnings: [...warnings, ...(calibration?.warnings ?? [])],
    ...(reading.gate !== undefined && { gate: reading.gate }),
    ...(mergeAtHz !== undefined && { mergeAtHz }),
    ...(cycles !== undefined && { cycles }),
    smoothingOctaves,
    ...(calibration && { calibration: calibration.curve }),
    ...(setup && {
      temperatureC: setup.temperatureC,
      microphoneDistanceM: setup.microphoneDistance.m,
    }),
  };
}

function periods(written: string): number {
  const value = readNumber(written.trim());
  if (value !== undefined && value >= 1 && value <= 100) return value;
  throw new InputError(`--cycles: found "${written}", expected a number of periods from 1 to 100, such as 6`);
}

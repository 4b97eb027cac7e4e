import { type Command, Option } from 'commander';
import type { Setup } from '../../src/acoustics/setup.js';
import { joinWords } from '../../src/export/words/joinWords.js';
import { InputError } from '../../src/inputError.js';
import type { DesignRequest } from '../../src/pipeline/designRequest.js';
import type { MicrophonePlace } from '../../src/whatIf/movePlacement.js';
import type { PredictionRequest } from '../../src/whatIf/predictionRequest.js';
import { gather } from '../gather.js';
import { helpText } from '../helpText.js';
import { addImpulseOptions, askedOfImpulses } from '../impulseOptions.js';
import { checkOutput } from '../io/outputFolder.js';
import { readSetupFile } from '../io/readFiles.js';
import { openTerminal } from '../io/terminal.js';
import { writeOutputs } from '../io/writeOutputs.js';
import { addOutputOptions, collect, type OutputFlags, optionName } from '../options.js';
import { type Flags, inputPaths, readDesignRequest } from '../readRequest.js';
import { readTitle } from '../readTitle.js';
import { type VaryFlags, variedSpans } from '../variedSpans.js';

interface PredictFlags extends OutputFlags, VaryFlags {
  readonly setup?: string;
  readonly calibration?: string;
  readonly title?: string;
  readonly microphone: MicrophonePlace;
  readonly gate?: string | false;
  readonly channel?: string;
  readonly bands?: string;
  readonly maxBoost?: string;
  readonly out?: string;
  readonly force?: boolean;
}

const HELP = helpText({
  takes: 'a set-up file, and measurements where the speaker stands now, if there are any.',
  gives:
    'where each surface cancels and reinforces, how deep, and where the room rings; with --vary the same for each distance, with measurements also what a new fit would leave there and the best places. With --out also prediction.json, .csv, .txt and .svg.',
  notes: [
    "Distances are those of the set-up file: from the plane straight to the front baffle. While the speaker is moved the microphone makes the same move (--microphone along), as for measuring again from the same distance, or stays where it is (--microphone stays), as a listener does. A wall that faces a varied one is known by the room's size in the set-up, or by both names (floor and ceiling, left and right), and comes nearer; all other surfaces keep their distances.",
    'Two surfaces at once: give each its own span, such as "side wall: 60 cm to 1.2 m", with "by 10 cm" for the step.',
  ],
  caution:
    "it is a forecast, a hint only in a whole room: measure again after moving. Mounting follows the maker's instructions and local codes.",
  examples: [
    'nullwise predict --setup setup.json',
    'nullwise predict --setup setup.json --vary "wall behind" --from "10 cm" --to "1 m"',
    'nullwise predict measurement.txt --setup setup.json --vary "wall behind" --from "20 cm" --to "80 cm" --step "10 cm" --out moving/',
    'nullwise predict --setup setup.json --vary "wall behind: 20 cm to 80 cm" --vary "side wall: 60 cm to 1.2 m by 10 cm"',
  ],
});

const NAMES = ['prediction.json', 'prediction.csv', 'prediction.txt', 'prediction.svg'];

/** `nullwise predict`: what the geometry predicts, and what moving the speaker would do. */
export function addPredict(program: Command): void {
  const command = program
    .command('predict')
    .summary('say where surfaces cancel, and what moving the speaker would do')
    .description(
      'Predicts from the set-up where each surface cancels and reinforces, and how that changes as the speaker moves. With measurements: the curve as it would be elsewhere, and the best places.',
    )
    .argument('[measurement...]', 'measured where the speaker stands now (positions of one set-up)')
    .option('--setup <file>', 'where speaker and microphone stand (its format: nullwise schema setup)')
    .option(
      '--vary <surface>',
      'move the speaker toward and away from this surface; may be repeated',
      collect,
    )
    .option('--from <length>', 'nearest distance from it (default: half of what the set-up has)')
    .option(
      '--to <length>',
      'farthest distance from it (default: twice what the set-up has, short of the wall across)',
    )
    .option('--step <length>', 'from one distance to the next (default: a round one, up to 20 distances)')
    .addOption(
      new Option('--microphone <place>', 'while the speaker is moved: it makes the same move, or stays')
        .choices(['along', 'stays'])
        .default('along'),
    )
    .option('--bands <n>', 'with measurements: how many filters at most in each new fit (default: 8)')
    .option('--max-boost <gain>', 'with measurements: most boost in each new fit (default: 6 dB)')
    .option('--calibration <file>', 'deviation of the microphone, taken off every measurement')
    .option('--title <text>', 'what to call it in every output (default: the file names)', readTitle)
    .option('--out <folder>', 'leave figures, text and drawing there')
    .option('--force', 'overwrite files of an earlier run');
  addOutputOptions(addImpulseOptions(command, 'all of it'))
    .addHelpText('after', HELP)
    .action(async (paths: string[], flags: PredictFlags) => {
      const terminal = openTerminal(flags);
      const plan =
        flags.out === undefined
          ? undefined
          : {
              folder: flags.out,
              overwrite: Boolean(flags.force),
              inputs: inputPaths(paths, measuredFlags(flags)),
            };
      if (plan) checkOutput({ ...plan, names: NAMES });

      terminal.progress('Reading …');
      const request = readRequest(paths, flags);
      terminal.progress('Predicting …');
      const { predictionReport } = await import('../../src/whatIf/predictionReport.js');
      const prediction = predictionReport(request);
      const { predictionText } = await import('../../src/export/text/predictionText.js');
      const { predictionJson } = await import('../../src/export/json/predictionJson.js');
      const text = predictionText(prediction);
      const json = predictionJson(prediction);
      if (plan) {
        const { predictionCsv } = await import('../../src/export/tables/predictionCsv.js');
        const { predictionSvg } = await import('../../src/export/plot/predictionSvg.js');
        const contents = [json, predictionCsv(prediction), text, predictionSvg(prediction)];
        writeOutputs(
          plan,
          NAMES.map((name, i) => ({ name, content: contents[i]! })),
        );
      }
      terminal.result(flags.json ? json : text);
      if (plan) terminal.message(`\nWrote ${NAMES.join(', ')} to ${plan.folder}`);
    });
}

/** @throws InputError with every problem of options and files */
function readRequest(paths: readonly string[], flags: PredictFlags): PredictionRequest {
  const { setup: file } = flags;
  if (file === undefined) {
    throw new InputError(
      '--setup: found none, expected a set-up file: the distances are what a prediction is made from (its format: nullwise schema setup)',
    );
  }
  refuseIdle(paths, flags);
  let setup: Setup | undefined;
  let varied: PredictionRequest['varied'] = [];
  let measured: DesignRequest | undefined;
  gather([
    () => {
      setup = readSetupFile(file);
      varied = variedSpans(setup, flags);
    },
    () => {
      if (paths.length > 0) measured = readDesignRequest(paths, measuredFlags(flags));
    },
  ]);
  return {
    title: flags.title ?? measured?.title ?? `What ${file} predicts`,
    setup: setup!,
    varied,
    microphone: flags.microphone,
    ...(measured && { measured: { ...measured, setup: setup! } }),
  };
}

/** @throws InputError for options that find nothing to do */
function refuseIdle(paths: readonly string[], flags: PredictFlags): void {
  const { bands, maxBoost, calibration } = flags;
  const given = Object.entries({ bands, maxBoost, calibration }).filter(([, value]) => value !== undefined);
  const idle = [...given.map(([name]) => optionName(name)), ...askedOfImpulses(flags)];
  gather([
    () => {
      if (paths.length === 0 && idle.length > 0)
        throw new InputError(
          `${joinWords(idle)}: found without a measurement, expected one: the geometry alone is the same with ${idle.length === 1 ? 'it' : 'them'}`,
        );
    },
    () => {
      if (flags.microphone === 'stays' && flags.vary === undefined)
        throw new InputError(
          '--microphone: found without --vary, expected the surface from which the speaker is moved: --vary "wall behind"',
        );
    },
  ]);
}

/** What concerns the measurements: --from and --to are lengths here. */
function measuredFlags({ calibration, title, gate, channel, bands, maxBoost, setup }: PredictFlags): Flags {
  const given = { setup, calibration, title, gate, channel, bands, maxBoost };
  return Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined));
}

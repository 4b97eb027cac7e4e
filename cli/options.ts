import { type Command, Option } from 'commander';
import { shippedDevices } from '../src/device/profile/shippedDevices.js';
import { designDefaults } from '../src/schema/designOptions.js';
import { readTitle } from './readTitle.js';

/** What fit and diagnose both know about a measurement. */
export interface MeasuredFlags {
  readonly setup?: string;
  readonly moved?: readonly string[];
  readonly calibration?: string;
  readonly from?: string;
  readonly to?: string;
  readonly title?: string;
}

export interface OutputFlags {
  readonly json?: boolean;
  readonly quiet?: boolean;
}

const deviceNames = shippedDevices.map(({ name }) => name);

/** Of an option that may be repeated. */
export const collect = (value: string, earlier: readonly string[] = []) => [...earlier, value];

export function addMeasuredOptions(command: Command): Command {
  return command
    .option('--setup <file>', 'where speaker and microphone stood (its format: nullwise schema setup)')
    .option('--moved <measurement>', 'the same speaker at another placement; may be repeated', collect)
    .option('--calibration <file>', 'deviation of the microphone, taken off every measurement')
    .option('--from <frequency>', 'lower end of the range (default: found from the curve)')
    .option('--to <frequency>', 'upper end of the range (default: found from the curve)')
    .option('--title <text>', 'what to call it in every output (default: the file names)', readTitle);
}

/** The numbers of a design; what they may be is checked by the schema, not here. */
export function addDesignOptions(command: Command): Command {
  return command
    .addOption(new Option('--target <flat | file>', 'target curve: the word flat, or a file').default('flat'))
    .option('--bass-shelf <gain>', 'raises (or lowers) the bass of the target')
    .option(
      '--bass-shelf-frequency <frequency>',
      'where the bass shelf has half its gain',
      designDefaults.bassShelfFrequency,
    )
    .option('--tilt <dB per octave>', 'tilts the target about 1 kHz; negative falls toward the treble')
    .option('--level <dB>', "level of the target on the measurement's scale (default: chosen)")
    .option(
      '--device <name or file>',
      `what the filters will run in: ${deviceNames.join(', ')}, or a file (its format: nullwise schema device)`,
    )
    .option(
      '--bands <n>',
      `how many filters at most, 1 to 40 (default: ${designDefaults.bands}, or as many as the device has)`,
    )
    .option('--max-boost <gain>', 'most boost of each filter and of their sum', designDefaults.maxBoost)
    .option('--max-cut <gain>', 'most cut of each filter, as a positive number', designDefaults.maxCut)
    .option(
      '--max-level-loss <gain>',
      'how far the mean of the EQ over the range may fall below 0 dB',
      designDefaults.maxLevelLoss,
    )
    .option('--q-min <q>', 'least Q of a filter', designDefaults.qMin)
    .option('--q-max <q>', 'greatest Q of a filter', designDefaults.qMax)
    .option(
      '--shelf-q-max <q>',
      'greatest Q of a shelf; above 0.71 it overshoots at both ends (default: that of --q-max)',
    )
    .option(
      '--sample-rate <frequency>',
      `rate at which the filters will run (default: ${designDefaults.sampleRate}, or the device's own)`,
    )
    .option(
      '--smoothing <1/n>',
      'smoothing in octaves under which the error is taken',
      designDefaults.smoothing,
    )
    .option(
      '--aim <mean | worst>',
      'with several positions: make the error of their average small, or that of the worst one (default: mean)',
    )
    .option(
      '--repeatability <gain>',
      'RMS to which a measurement repeats; bands that win no more than noise of that size are not spent',
    )
    .option('--effort <quick | normal | thorough>', 'how long to search (default: normal)')
    .option('--seed <n>', 'fixes the search: the same seed gives the same filters', designDefaults.seed);
}

/** Of one job: what was measured again was one measurement. */
export function addRepeatOption(command: Command): Command {
  return command.option(
    '--repeat <measurement>',
    'the first measurement taken again in the same place, to estimate the repeatability; may be repeated',
    collect,
  );
}

export function addOutputOptions(command: Command): Command {
  return command
    .option('--json', 'print one JSON document and nothing else')
    .option('--quiet', 'print nothing but errors');
}

/** "maxBoost" to "--max-boost" */
export function optionName(field: string): string {
  return `--${field.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`;
}

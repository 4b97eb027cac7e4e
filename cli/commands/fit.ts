import type { Command } from 'commander';
import { helpText } from '../helpText.js';
import { addImpulseOptions } from '../impulseOptions.js';
import {
  addDesignOptions,
  addMeasuredOptions,
  addOutputOptions,
  addRepeatOption,
  type OutputFlags,
} from '../options.js';
import type { Flags } from '../readRequest.js';
import { runDesign } from '../runDesign.js';

interface FitFlags extends OutputFlags {
  readonly out?: string;
  readonly force?: boolean;
}

const HELP = helpText({
  takes:
    'one measurement, or several positions of one set-up: they are averaged for the fit, their spread counts in the diagnosis.',
  gives:
    'a summary, the filters and the warnings on standard output; with --out also design.json, filters.csv, filters.txt, coefficients.json, before-after.svg and report.html.',
  notes: [
    'Quantities may carry a unit: "2.5 kHz", "-0.8 dB", "14 in". A dip that the placement makes is never boosted; a set-up, a second placement (--moved), more positions or an impulse response instead of a text make that judgement surer.',
  ],
  caution:
    'boost costs amplifier power and, in the bass, excursion: keep to the ratings of the maker, and start quietly after entering filters.',
  examples: [
    'nullwise fit measurement.txt',
    'nullwise fit left.txt centre.txt right.txt --setup setup.json --out result/',
    'nullwise fit impulse.wav --gate "12 ms" --effort quick',
    'nullwise fit measurement.txt --bands 5 --max-boost 3 --bass-shelf 3 --tilt -0.8 --json',
    'nullwise fit measurement.txt --device five-band-48k --calibration microphone.txt --quiet',
  ],
});

/** `nullwise fit`: from measured curves to a correction. */
export function addFit(program: Command): void {
  const command = program
    .command('fit')
    .summary('design a correction from measurements')
    .description(
      'Finds what is wrong with a measured curve, says what an equalizer can mend, and fits the filters.',
    )
    .argument(
      '<measurement...>',
      'text files with rows of frequency, level and optionally phase, or impulse responses as WAV',
    );
  addRepeatOption(addDesignOptions(addImpulseOptions(addMeasuredOptions(command), 'all of it')))
    .option('--out <folder>', 'leave design, filters, coefficients, drawing and report there')
    .option('--force', 'overwrite files of an earlier run');
  addOutputOptions(command)
    .addHelpText('after', HELP)
    .action(async (paths: string[], flags: Flags & FitFlags) => {
      await runDesign(
        {
          paths,
          asked: flags,
          ...(flags.out !== undefined && { out: flags.out }),
          overwrite: Boolean(flags.force),
        },
        flags,
      );
    });
}

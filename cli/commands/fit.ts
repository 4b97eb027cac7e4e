import type { Command } from 'commander';
import { addImpulseOptions } from '../impulseOptions.js';
import { addDesignOptions, addMeasuredOptions, addOutputOptions, type OutputFlags } from '../options.js';
import { type Flags, inputPaths, readDesignRequest } from '../readRequest.js';
import { runDesign } from '../runDesign.js';

interface FitFlags extends OutputFlags {
  readonly out?: string;
  readonly force?: boolean;
}

const EXAMPLES = `
Quantities may carry a unit: "2.5 kHz", "-0.8 dB". Several measurements are positions of one set-up: they are
averaged for the fit, their spread counts in the diagnosis.

Examples:
  nullwise fit measurement.txt
  nullwise fit left.txt centre.txt right.txt --setup setup.json --out result/
  nullwise fit impulse.wav --gate 12ms
  nullwise fit measurement.txt --bands 5 --max-boost 3 --bass-shelf 3 --tilt -0.8 --json`;

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
  addDesignOptions(addImpulseOptions(addMeasuredOptions(command), 'all of it'))
    .option('--out <folder>', 'leave design, filters, coefficients, drawing and report there')
    .option('--force', 'overwrite files of an earlier run');
  addOutputOptions(command)
    .addHelpText('after', EXAMPLES)
    .action(async (paths: string[], flags: Flags & FitFlags) => {
      await runDesign(
        {
          readRequest: () => readDesignRequest(paths, flags),
          inputs: inputPaths(paths, flags),
          ...(flags.out !== undefined && { out: flags.out }),
          overwrite: Boolean(flags.force),
        },
        flags,
      );
    });
}

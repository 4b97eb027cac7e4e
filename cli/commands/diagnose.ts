import type { Command } from 'commander';
import { diagnosisJson } from '../../src/export/json/diagnosisJson.js';
import { diagnosisText } from '../../src/export/text/diagnosisText.js';
import { helpText } from '../helpText.js';
import { addImpulseOptions } from '../impulseOptions.js';
import { openTerminal } from '../io/terminal.js';
import { addMeasuredOptions, addOutputOptions, type OutputFlags } from '../options.js';
import { predictLines } from '../predictLine.js';
import { type Flags, readMeasuredRequest } from '../readRequest.js';

const HELP = helpText({
  takes: 'one measurement, or several positions of one set-up.',
  gives:
    'every peak and dip with its likely cause, a verdict (equalize, move, leave), how sure that is, and the evidence in sentences with numbers.',
  notes: [
    'Reflections are fitted to the whole curve at once. With a set-up they get the names of its surfaces, without one a distance.',
  ],
  caution:
    'a verdict belongs to the place that was measured. Measure again where speaker or microphone move.',
  examples: [
    'nullwise diagnose measurement.txt --setup setup.json',
    'nullwise diagnose impulse.wav --gate auto',
    'nullwise diagnose here.txt --moved there.txt --json',
  ],
});

/** `nullwise diagnose`: findings only. */
export function addDiagnose(program: Command): void {
  const command = program
    .command('diagnose')
    .summary('say what is wrong with a curve, and why')
    .description(
      'Finds peaks and dips, their likely cause, and whether an equalizer may touch them. Fits nothing.',
    )
    .argument(
      '<measurement...>',
      'positions of one set-up: text files with rows of frequency and level, or impulse responses as WAV',
    );
  addOutputOptions(addImpulseOptions(addMeasuredOptions(command), 'all of it'))
    .addHelpText('after', HELP)
    .action(async (paths: string[], flags: Flags & OutputFlags) => {
      const terminal = openTerminal(flags);
      terminal.progress('Reading …');
      const request = readMeasuredRequest(paths, flags);
      const { diagnosisReport } = await import('../../src/pipeline/diagnosisReport.js');
      const report = diagnosisReport(request);
      terminal.result(flags.json ? diagnosisJson(report) : diagnosisText(report));
      const next = predictLines(report, paths, flags);
      if (next !== '') terminal.message(next);
    });
}

import type { Command } from 'commander';
import type { Measurement } from '../../src/measurement/measurement.js';
import type { Design } from '../../src/schema/design.js';
import type { OtherChannel } from '../../src/verify/channelHypotheses.js';
import { gather } from '../gather.js';
import { checkOutput } from '../io/outputFolder.js';
import { readDesignFile } from '../io/readDesignFile.js';
import { readMeasurementFile } from '../io/readFiles.js';
import { openTerminal } from '../io/terminal.js';
import { writeOutputs } from '../io/writeOutputs.js';
import { addOutputOptions, type OutputFlags } from '../options.js';

interface VerifyFlags extends OutputFlags {
  readonly before?: string;
  readonly other?: string;
  readonly out?: string;
  readonly force?: boolean;
}

const EXAMPLES = `
Measure as before, from the same place, with the filters on. The level does not matter. The exit code is 0 also
where the measurement is not as promised: "asPromised" of --json tells.

Examples:
  nullwise verify result/design.json after.txt
  nullwise verify result/design.json after.txt --before off.txt --out check/`;

const NAMES = ['verification.json', 'verification.txt', 'verification.svg'];

/** `nullwise verify`: holds a new measurement against what a design promised. */
export function addVerify(program: Command): void {
  const command = program
    .command('verify')
    .summary('hold a new measurement against what a design promised')
    .description(
      'Compares a measurement made with the filters entered with what the design promised, and names what went wrong.',
    )
    .argument('<design>', 'design.json of a fit')
    .argument('<measurement>', 'measured with the filters on')
    .option('--before <measurement>', "measured with the filters off, in place of the design's own curve")
    .option('--other <file>', "the other channel's design.json or earlier measurement, to find a mix-up")
    .option('--out <folder>', 'leave figures, text and drawing there')
    .option('--force', 'overwrite files of an earlier run');
  addOutputOptions(command)
    .addHelpText('after', EXAMPLES)
    .action(async (designPath: string, measurementPath: string, flags: VerifyFlags) => {
      const terminal = openTerminal(flags);
      const inputs = [designPath, measurementPath, flags.before, flags.other].filter((p) => p !== undefined);
      const plan =
        flags.out === undefined ? undefined : { folder: flags.out, overwrite: Boolean(flags.force), inputs };
      if (plan) checkOutput({ ...plan, names: NAMES });

      terminal.progress('Reading …');
      let design: Design | undefined;
      let after: Measurement | undefined;
      let before: Measurement | undefined;
      let other: OtherChannel | undefined;
      gather([
        () => {
          design = readDesignFile(designPath);
        },
        () => {
          after = readMeasurementFile(measurementPath);
        },
        () => {
          if (flags.before !== undefined) before = readMeasurementFile(flags.before);
        },
        () => {
          if (flags.other !== undefined) other = readOther(flags.other);
        },
      ]);
      terminal.progress('Comparing …');
      const { verifyDesign } = await import('../../src/verify/verifyDesign.js');
      const verification = verifyDesign({
        design: design!,
        after: after!.curve,
        ...(before && { before: before.curve }),
        ...(other && { other }),
        warnings: after!.warnings,
      });
      const { verificationText } = await import('../../src/export/verificationText.js');
      const { verificationJson } = await import('../../src/export/verificationJson.js');
      const text = verificationText(verification);
      const json = verificationJson(verification);
      if (plan) {
        const { verificationSvg } = await import('../../src/export/verificationSvg.js');
        const contents = [json, text, verificationSvg(verification)];
        writeOutputs(
          plan,
          NAMES.map((name, i) => ({ name, content: contents[i]! })),
        );
      }
      terminal.result(flags.json ? json : text);
      if (plan) terminal.message(`\nWrote ${NAMES.join(', ')} to ${plan.folder}`);
    });
}

/** The other channel by its design, or by a measurement of its speaker alone. */
function readOther(path: string): OtherChannel {
  if (!/\.json$/i.test(path)) return { before: readMeasurementFile(path).curve };
  const design = readDesignFile(path);
  return {
    bank: design,
    before: {
      frequencyHz: Float64Array.from(design.curves.frequencyHz),
      levelDb: Float64Array.from(design.curves.measuredDb),
    },
  };
}

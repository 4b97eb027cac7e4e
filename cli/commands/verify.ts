import { basename } from 'node:path';
import type { Command } from 'commander';
import type { Curve } from '../../src/curve/curve.js';
import { applyCalibration } from '../../src/measurement/applyCalibration.js';
import { inFile } from '../../src/measurement/inFile.js';
import type { Measurement } from '../../src/measurement/measurement.js';
import type { MeasurementReading } from '../../src/measurement/readMeasurement.js';
import { averageMeasurements } from '../../src/pipeline/averageMeasurements.js';
import { onceEach } from '../../src/pipeline/onceEach.js';
import { type Checkable, curvesOf } from '../../src/schema/checkable.js';
import type { OtherChannel } from '../../src/verify/channelHypotheses.js';
import type { AsMeasured } from '../../src/verify/measuredBefore.js';
import { gather } from '../gather.js';
import { helpText } from '../helpText.js';
import {
  addImpulseOptions,
  type ImpulseFlags,
  impulseReading,
  refuseWithoutImpulse,
} from '../impulseOptions.js';
import { checkOutput } from '../io/outputFolder.js';
import { readCheckableFile } from '../io/readDesignFile.js';
import { type ReadCurve, readCalibrationFile, readMeasurementFile } from '../io/readFiles.js';
import { openTerminal } from '../io/terminal.js';
import { writeOutputs } from '../io/writeOutputs.js';
import { addOutputOptions, collect, type OutputFlags } from '../options.js';

interface VerifyFlags extends OutputFlags, ImpulseFlags {
  readonly calibration?: string;
  readonly before?: readonly string[];
  readonly other?: string;
  readonly out?: string;
  readonly force?: boolean;
}

const HELP = helpText({
  takes:
    'the design.json of a fit, and a measurement made as before, from the same place, with the filters on; of a design made from several positions one from each of them: they are averaged as the fit did it. The level does not matter.',
  gives:
    '"as promised", or what went wrong with its figures and the way to mend it; with --out also verification.json, .txt and .svg. The exit code is 0 whatever the answer: "asPromised" of --json tells.',
  notes: [
    'A design that holds no curves of its own (written by hand, say) is checked as far as it can be with --before.',
    'Give the same --calibration as the fit had; an impulse response is gated as that of the design was, unless --gate or --no-gate is given. Whether left and right are exchanged can be told only with --other.',
  ],
  caution: 'start quietly: what was entered wrongly may be loud.',
  examples: [
    'nullwise verify result/design.json after.txt',
    'nullwise verify result/design.json left-after.txt centre-after.txt right-after.txt',
    'nullwise verify result/design.json after.txt --before before.txt --out check/',
    'nullwise verify result/design.json after.txt --other right.txt --calibration microphone.txt --json',
  ],
});

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
    .argument('<measurement...>', 'measured with the filters on, at each position of the design')
    .option(
      '--before <measurement>',
      "measured with the filters off, in place of the design's own curve; may be repeated",
      collect,
    )
    .option('--other <file>', "the other channel's design.json or earlier measurement, to find a mix-up")
    .option('--calibration <file>', 'deviation of the microphone, taken off every measurement given here')
    .option('--out <folder>', 'leave figures, text and drawing there')
    .option('--force', 'overwrite files of an earlier run');
  addOutputOptions(addImpulseOptions(command, 'as the design was measured'))
    .addHelpText('after', HELP)
    .action(async (designPath: string, paths: string[], flags: VerifyFlags) => {
      const terminal = openTerminal(flags);
      const inputs = [designPath, ...paths, ...(flags.before ?? []), flags.other, flags.calibration].filter(
        (p) => p !== undefined,
      );
      const plan =
        flags.out === undefined ? undefined : { folder: flags.out, overwrite: Boolean(flags.force), inputs };
      if (plan) checkOutput({ ...plan, names: NAMES });

      terminal.progress('Reading …');
      const { design, after, before, measured, other, calibration, warnings } = readInputs(
        designPath,
        paths,
        flags,
      );
      terminal.progress('Comparing …');
      const { verifyDesign } = await import('../../src/verify/verifyDesign.js');
      const verification = verifyDesign({
        design,
        after: after.curve,
        seen: after,
        measured,
        ...(before && { before: before.curve }),
        averaged: { after: paths.length, before: flags.before?.length ?? 1 },
        ...(other && { other }),
        calibration: calibration ? { curve: calibration.curve, name: basename(flags.calibration!) } : 'none',
        warnings,
        fileNames: {
          after: paths.join(', '),
          ...(flags.before !== undefined && { before: flags.before.join(', ') }),
        },
      });
      const { verificationText } = await import('../../src/export/text/verificationText.js');
      const { verificationJson } = await import('../../src/export/json/verificationJson.js');
      const text = verificationText(verification);
      const json = verificationJson(verification);
      if (plan) {
        const { verificationSvg } = await import('../../src/export/plot/verificationSvg.js');
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

function readInputs(designPath: string, paths: readonly string[], flags: VerifyFlags) {
  let design: Checkable | undefined;
  const after: Calibrated[] = [];
  const before: Measurement[] = [];
  let other: OtherChannel | undefined;
  let reading: MeasurementReading = {};
  let calibration: ReadCurve | undefined;
  const all: Measurement[] = [];
  const calibrated = (path: string) => {
    const measurement = calibratedFile(path, reading, calibration?.curve);
    all.push(measurement);
    return measurement;
  };
  gather([
    () => {
      reading = impulseReading(flags);
    },
    () => {
      if (flags.calibration !== undefined) calibration = readCalibrationFile(flags.calibration);
    },
    () => {
      design = readCheckableFile(designPath, flags.before !== undefined);
      if (flags.gate === undefined && design.gateS !== undefined)
        reading = { ...reading, gate: { afterS: design.gateS } };
    },
    ...paths.map((path) => () => void after.push(calibrated(path))),
    ...(flags.before ?? []).map((path) => () => void before.push(calibrated(path))),
    () => {
      if (flags.other !== undefined) other = readOther(flags.other, calibrated);
    },
  ]);
  refuseWithoutImpulse(flags, all);
  const averages = {
    after: averageMeasurements(after),
    before: before.length > 0 ? averageMeasurements(before) : undefined,
  };
  return {
    design: design!,
    ...averages,
    measured: after,
    other,
    calibration,
    warnings: onceEach([
      ...averages.after.warnings,
      ...(averages.before?.warnings ?? []),
      ...all.flatMap((measurement) => measurement.warnings),
      ...(calibration?.warnings ?? []),
    ]),
  };
}

type Calibrated = Measurement & AsMeasured;

function calibratedFile(path: string, reading: MeasurementReading, calibration?: Curve): Calibrated {
  const read = readMeasurementFile(path, reading);
  const measurement = { ...read, asMeasured: read.curve };
  if (!calibration) return measurement;
  const { curve, warnings } = inFile(path, () => applyCalibration(measurement.curve, calibration));
  return { ...measurement, curve, warnings: [...measurement.warnings, ...warnings] };
}

const OTHER_MEASURED = 'or give that measurement itself (--other)';

/** The other channel by its design, or by a measurement of its speaker alone. */
function readOther(path: string, read: (path: string) => Measurement): OtherChannel {
  if (!/\.json$/i.test(path)) return { before: read(path).curve };
  const bank = readCheckableFile(path, true);
  const { frequencyHz, measuredDb } = curvesOf(bank, path, OTHER_MEASURED);
  return {
    bank,
    before: { frequencyHz: Float64Array.from(frequencyHz), levelDb: Float64Array.from(measuredDb) },
  };
}

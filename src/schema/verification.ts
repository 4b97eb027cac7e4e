import { z } from 'zod';
import { qConventionNames } from '../filter/qConventions.js';
import { warningSchema } from './design.js';

/** What may have gone wrong with an installation. */
const faultTypes = [
  'filterMissing',
  'gainSign',
  'frequencyWrong',
  'bypassed',
  'qConvention',
  'sampleRate',
  'channelsSwapped',
  'speakerMoved',
  'unknown',
] as const;

export type FaultType = (typeof faultTypes)[number];

const index = z.number().int().min(0);

const faultSchema = z.object({
  type: z.enum(faultTypes),
  /** Index of the filter concerned, from 0; absent where it concerns the whole bank or none. */
  filter: z.number().int().min(0).exactOptional(),
  /** Share of the misfit, 0 to 1, in units of what a faultless installation scatters by. */
  explains: z.number().min(0).max(1),
  message: z.string(),
  /** What to do about it. */
  fix: z.string(),
  /** The frequency, gain or Q (the cookbook's) that the filter seems to have. */
  frequencyHz: z.number().positive().exactOptional(),
  gainDb: z.number().exactOptional(),
  q: z.number().positive().exactOptional(),
  convention: z.enum(qConventionNames).exactOptional(),
  direction: z.enum(['entered', 'converted']).exactOptional(),
  madeForHz: z.number().positive().exactOptional(),
  runningAtHz: z.number().positive().exactOptional(),
});

const octaveSchema = z.object({
  centreHz: z.number().positive(),
  /** Means over the octave, as far as it is covered, level left out: what the EQ was to add, and what was added. */
  promisedDb: z.number(),
  measuredDb: z.number(),
  /** RMS of measured minus promised, and what a faultless installation may show. */
  differenceRmsDb: z.number().min(0),
  expectedRmsDb: z.number().min(0),
});

/** `verify --json` */
export const verificationSchema = z.object({
  schemaVersion: z.literal(1),
  title: z.string(),
  asPromised: z.boolean(),
  /** What was compared: of how many measurements each side is the average, and where the one without filters is from. */
  compared: z.object({
    after: z.number().int().min(1),
    before: z.number().int().min(1),
    beforeFrom: z.enum(['design', 'measurement']),
  }),
  /** RMS over the range of measured minus promised, smoothed as the design's error is, level left out. */
  errorRmsDb: z.number().min(0),
  /** RMS over the range of what a faultless installation may show, a microphone a few centimetres off included. */
  expectedRmsDb: z.number().min(0),
  /** The same once the named faults are put right. */
  remainingRmsDb: z.number().min(0),
  /** RMS about the target, level left out, spans left alone not counted: promised and measured; absent where the design has none. */
  targetErrorRmsDb: z
    .object({
      promised: z.number().min(0),
      measured: z.number().min(0),
      /** The design's own `unevenness.afterRmsDb` where that is not what is promised here: of another curve, or less of it. */
      stated: z.number().min(0).exactOptional(),
    })
    .exactOptional(),
  /** Level of the new measurement over the promised one, left out everywhere else. */
  levelShiftDb: z.number(),
  faults: z.array(faultSchema),
  /**
   * Filters, by index from 0, of which this measurement would not surely have shown that they are missing, stand half an
   * octave off, or have three times their Q or a third of it; absent where a fault concerns more than one filter.
   */
  wouldNotShow: z
    .object({ missing: z.array(index), frequency: z.array(index), q: z.array(index) })
    .exactOptional(),
  octaves: z.array(octaveSchema),
  /** How much of the misfit each reading of Q alone would explain, the best first; empty where all is well. */
  qConventions: z.array(
    z.object({
      name: z.enum(qConventionNames),
      direction: z.enum(['entered', 'converted']),
      explains: z.number(),
    }),
  ),
  /** Cancellations found elsewhere than in the earlier measurement. */
  shifted: z.array(z.object({ beforeHz: z.number().positive(), afterHz: z.number().positive() })),
  warnings: z.array(warningSchema),
  /** 24 points an octave: levels with the new measurement's own level left out. */
  curves: z.object({
    frequencyHz: z.array(z.number()),
    beforeDb: z.array(z.number()),
    promisedDb: z.array(z.number()),
    measuredDb: z.array(z.number()),
    expectedScatterDb: z.array(z.number()),
  }),
  range: z.object({ fromHz: z.number().positive(), toHz: z.number().positive() }),
});

/** How well a measurement agrees with what a design promised, and what went wrong. */
export type Verification = z.infer<typeof verificationSchema>;
export type Fault = Verification['faults'][number];

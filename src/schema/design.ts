import { z } from 'zod';
import { qConventionNames } from '../filter/qConventions.js';
import { type CoefficientName, coefficientNames } from '../filter/roundCoefficients.js';

const range = z.object({ fromHz: z.number().positive(), toHz: z.number().positive() });

export const filterSchema = z.object({
  type: z.enum(['peaking', 'lowShelf', 'highShelf']),
  frequencyHz: z.number().positive(),
  gainDb: z.number(),
  q: z.number().positive(),
});

const errorFigures = z.object({
  beforeRmsDb: z.number().min(0),
  afterRmsDb: z.number().min(0),
  beforeMaxDb: z.number().min(0),
  afterMaxDb: z.number().min(0),
});

export const findingSchema = z.object({
  kind: z.enum(['peak', 'dip']),
  frequencyHz: z.number().positive(),
  levelDb: z.number(),
  widthOctaves: z.number().positive(),
  verdict: z.enum(['equalize', 'move', 'leave']),
  cause: z.object({
    type: z.enum(['reflection', 'roomMode', 'speaker', 'unknown']),
    surface: z.string().exactOptional(),
    predictedHz: z.number().positive().exactOptional(),
  }),
  confidence: z.number().min(0).max(1),
  evidence: z.array(z.string()),
  advice: z.string().exactOptional(),
  zone: range.exactOptional(),
});

export const warningSchema = z.object({
  code: z.string(),
  message: z.string(),
  frequencyHz: z.number().positive().exactOptional(),
});

/** The grid curves of a design, all of one length, 48 points an octave over the data. */
const curvesSchema = z.object({
  frequencyHz: z.array(z.number()),
  /** Power average over the positions, before smoothing. */
  measuredDb: z.array(z.number()),
  /** What the error is taken on. */
  smoothedDb: z.array(z.number()),
  /** With levelDb in it. */
  targetDb: z.array(z.number()),
  eqDb: z.array(z.number()),
});

/** The device that a design was made for, as far as its numbers depend on it. */
const designDeviceSchema = z.object({
  name: z.string(),
  sampleRatesHz: z.array(z.number().positive()),
  /** What the Q of `deviceSettings` means. */
  qConvention: z.enum(qConventionNames),
  coefficients: z
    .object({
      fixedPoint: z.object({ integerBits: z.number().int(), fractionBits: z.number().int() }).exactOptional(),
      feedbackSign: z.enum(['subtracted', 'added']),
      order: z.array(z.enum(coefficientNames as [CoefficientName, ...CoefficientName[]])),
    })
    .exactOptional(),
  /** By how much the signal may exceed full scale between the bands; `inputGainDb` keeps to it. */
  headroomDb: z.number().min(0).exactOptional(),
  /** Greatest level between the bands without the input gain. */
  insideMaxDb: z.number().exactOptional(),
  /** How late the device lets its signal out with the bands in use. */
  delay: z.object({ samples: z.number().min(0), ms: z.number().min(0) }).exactOptional(),
});

/** What is entered into one band of the device. */
const deviceSettingSchema = z.object({
  /** Which band, counted from 1 in the order of the device file. */
  band: z.number().int().positive(),
  type: filterSchema.shape.type,
  frequencyHz: z.number().positive(),
  gainDb: z.number(),
  /** In the device's convention: a Q, a bandwidth or a slope. */
  q: z.number().positive(),
});

/** `fit --json` and design.json. */
export const designSchema = z.object({
  schemaVersion: z.literal(1),
  /** What was measured, as the user named it; simulated data say so here. */
  title: z.string(),
  sampleRateHz: z.number().positive(),
  inputGainDb: z.number().max(0),
  levelDb: z.number(),
  filters: z.array(filterSchema),
  device: designDeviceSchema.exactOptional(),
  /** One for each of `filters`, in the same order, in the device's own convention. */
  deviceSettings: z.array(deviceSettingSchema).exactOptional(),
  /** Weighted RMS error before the filters were rounded to the device and after, stored coefficients included. */
  deviceCost: z
    .object({ unroundedRmsDb: z.number().min(0), roundedRmsDb: z.number().min(0), costDb: z.number() })
    .exactOptional(),
  range,
  /** Where the ends of the range were taken from, in words. */
  rangeExplanation: z.string().exactOptional(),
  /** Lower corner of the speaker, below which nothing is boosted; absent where the data do not show one. */
  cornerHz: z.number().positive().exactOptional(),
  error: errorFigures,
  errorWithZones: errorFigures,
  /**
   * RMS of measurement minus target, each about its own mean, zones left out: what no mere change of level removes.
   * `error` before also holds how far the target's level lies from the measurement's.
   */
  unevenness: z.object({ beforeRmsDb: z.number().min(0), afterRmsDb: z.number().min(0) }),
  /** Spans that the EQ leaves alone. */
  zones: z.array(range),
  limits: z.object({
    bands: z.number().int().min(0),
    maxBoostDb: z.number(),
    maxCutDb: z.number(),
    maxLevelLossDb: z.number(),
    minQ: z.number(),
    maxQ: z.number(),
    smoothingOctaves: z.number().min(0),
  }),
  /** Mean of the EQ over the range and its greatest sum, as the filters really are. */
  eq: z.object({ meanDb: z.number(), maxDb: z.number(), maxAtHz: z.number() }),
  /** In words: "flat", "flat, bass shelf +3 dB below 120 Hz", … */
  target: z.string(),
  findings: z.array(findingSchema),
  /** What the curve says of the speaker as a whole (box, front), one sentence each. */
  notes: z.array(z.string()).exactOptional(),
  warnings: z.array(warningSchema),
  curves: curvesSchema,
  fit: z.object({
    seed: z.number(),
    stopReason: z.string(),
    iterations: z.number(),
    limitsReached: z.array(z.string()),
  }),
});

export type Design = z.infer<typeof designSchema>;

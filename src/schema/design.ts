import { z } from 'zod';
import { qConventionNames } from '../filter/qConventions.js';
import { type CoefficientName, coefficientNames } from '../filter/roundCoefficients.js';

const range = z.object({ fromHz: z.number().positive(), toHz: z.number().positive() });

const filterSchema = z.object({
  type: z.enum(['peaking', 'lowShelf', 'highShelf']),
  frequencyHz: z.number().positive(),
  gainDb: z.number().min(-200).max(200),
  q: z.number().min(1e-6).max(1e6),
});

const errorFigures = z.object({
  beforeRmsDb: z.number().min(0),
  afterRmsDb: z.number().min(0),
  beforeMaxDb: z.number().min(0),
  afterMaxDb: z.number().min(0),
});

const findingSchema = z.object({
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

const rmsDb = (description: string) => z.number().min(0).meta({ description });

/** What the error that remains consists of. */
const boundSchema = z
  .object({
    unavoidableRmsDb: rmsDb(
      'what the best EQ of any shape would leave under the limits (greatest boost, nulls and bass left alone, loss of level): no number of bands gets below it',
    ),
    bandsPriceDb: rmsDb('what the bands used leave above that: more of them could take it away'),
    aimPriceDb: rmsDb(
      'with positions.aim "worst": what the average gives up for the worst position',
    ).exactOptional(),
    devicePriceDb: rmsDb('what the steps and rounded coefficients of the device add'),
  })
  .meta({ description: 'parts of error.afterRmsDb in dB, one added to the other: they sum to it' });

const errorAgainstBandsSchema = z
  .object({
    points: z
      .array(z.object({ bands: z.number().int().min(0), rmsDb: z.number().min(0) }))
      .meta({ description: 'weighted RMS that remains with so many bands, from none on, never rising' }),
    kneeBands: z
      .number()
      .int()
      .min(0)
      .meta({ description: 'each band beyond takes away less than a twentieth of what remains with none' }),
    deviceBands: z
      .number()
      .int()
      .min(1)
      .meta({
        description: 'of so many bands the device has the use here; more of them would want another device',
      })
      .exactOptional(),
  })
  .meta({
    description:
      'the error (as error.afterRmsDb, before rounding to a device) against the number of bands, from a short search of each number',
  });

const positionsSchema = z
  .object({
    aim: z
      .enum(['mean', 'worst'])
      .meta({ description: 'what the EQ makes small: average or worst position' }),
    worstBeforeRmsDb: rmsDb('the most of beforeRmsDb over the positions'),
    worstAfterRmsDb: rmsDb('the most of afterRmsDb over the positions'),
    each: z.array(
      z.object({
        name: z.string(),
        beforeRmsDb: z.number().min(0),
        afterRmsDb: z.number().min(0),
        digest: z
          .string()
          .meta({ description: 'tells its measured numbers from those of another, level left out' })
          .exactOptional(),
      }),
    ),
  })
  .meta({ description: 'unevenness at each position, RMS in dB about its own mean, zones left out' });

const repeatabilitySchema = z
  .object({
    db: rmsDb('RMS in dB to which one measurement repeats'),
    source: z.enum(['given', 'estimated']),
    measurements: z
      .number()
      .int()
      .min(2)
      .meta({ description: 'measurements of one position that it was estimated from' })
      .exactOptional(),
    bandsNotSpent: z
      .number()
      .int()
      .min(0)
      .meta({ description: 'bands that would win no more than they would on noise of that size' }),
    wouldWinDb: rmsDb('what those bands would take off the error'),
  })
  .meta({ description: 'how well the measurement repeats, and what was saved for it' });

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
  /** The shortest gate that a measurement was made with, from the arrival of the direct sound on; absent where there was none. */
  gateS: z.number().positive().exactOptional(),
  /** What was taken off every measurement as the microphone's deviation; absent where nothing was. */
  calibration: z
    .object({
      name: z.string().meta({ description: 'its file' }).exactOptional(),
      digest: z.string().meta({ description: 'tells its numbers from those of another' }),
    })
    .exactOptional(),
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
  bound: boundSchema.exactOptional(),
  errorAgainstBands: errorAgainstBandsSchema.exactOptional(),
  positions: positionsSchema.exactOptional(),
  repeatability: repeatabilitySchema.exactOptional(),
  /** Spans that the EQ leaves alone. */
  /** Spans that the EQ does not mend: whose verdict they have, and how far the sum of the EQ may rise there. */
  zones: z.array(
    z.object({
      ...range.shape,
      verdict: z.enum(['move', 'leave']).exactOptional(),
      maxRiseDb: z.number().exactOptional(),
    }),
  ),
  limits: z.object({
    bands: z.number().int().min(0),
    maxBoostDb: z.number(),
    maxCutDb: z.number(),
    maxLevelLossDb: z.number(),
    minQ: z.number(),
    maxQ: z.number(),
    /** Of a shelf, where that was asked to be less. */
    maxShelfQ: z.number().exactOptional(),
    smoothingOctaves: z.number().min(0),
    /** What really bound: these, or what the device has where that is less. Only with a device. */
    withDevice: z
      .object({
        bands: z.number().int().min(0),
        maxBoostDb: z.number(),
        maxCutDb: z.number(),
        minQ: z.number(),
        maxQ: z.number(),
      })
      .exactOptional(),
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

/** What a fit gives: filters, what they promise, findings and warnings; the content of `design.json`. */
export type Design = z.infer<typeof designSchema>;

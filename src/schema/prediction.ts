import { z } from 'zod';
import { warningSchema } from './design.js';

const lengthM = z.number().min(0);
const frequencyHz = z.number().positive();

/** One cancellation of one surface. */
const dipSchema = z.object({
  /** By the geometry alone. */
  frequencyHz,
  /** Where the tolerances of the distances let it lie; absent where none were given. */
  fromHz: frequencyHz.exactOptional(),
  toHz: frequencyHz.exactOptional(),
  /** Where it is expected, the later start of the sound toward the surface included. */
  expectedHz: frequencyHz,
  /** How far under the tops beside it, were this the only surface. */
  depthDb: z.number().min(0),
});

const surfaceSchema = z.object({
  name: z.string(),
  speakerDistanceM: lengthM,
  microphoneDistanceM: lengthM,
  pathDifferenceM: lengthM,
  cancellationsHz: z.array(frequencyHz),
  reinforcementsHz: z.array(frequencyHz),
  dips: z.array(dipSchema),
});

const placementSchema = z.object({
  /** From the first of the varied surfaces. */
  speakerDistanceM: lengthM,
  /** Of the first of the varied surfaces. */
  cancellationsHz: z.array(frequencyHz),
  /** Straight from speaker to microphone. */
  microphoneDistanceM: lengthM,
  /** Every varied surface, in the order of the command line. */
  surfaces: z.array(surfaceSchema),
  /** RMS over the octaves around each point, 60 Hz to 1 kHz, of `levelDb`. */
  unevennessDb: z.number().min(0).exactOptional(),
  /** Error about the target there, before and after a new fit; only with a measurement. */
  errorRmsDb: z.number().min(0).exactOptional(),
  remainingErrorRmsDb: z.number().min(0).exactOptional(),
  /** By how much the remaining error is less than where the speaker stands now. */
  gainDb: z.number().exactOptional(),
  /** Level over `curves.frequencyHz`: of the speaker there, or without a measurement what the surfaces add. */
  levelDb: z.array(z.number()).exactOptional(),
});

/** `predict --json` */
export const predictionSchema = z.object({
  schemaVersion: z.literal(1),
  title: z.string(),
  temperatureC: z.number(),
  speedOfSoundMs: z.number().positive(),
  microphoneDistanceM: z.number().positive(),
  /** The unit that lengths are shown in. */
  lengthUnit: z.enum(['cm', 'in']),
  /** Whether levels are what the surfaces add to the direct sound, or a measured speaker's. */
  levels: z.enum(['surfaces', 'measured']),
  surfaces: z.array(surfaceSchema),
  roomModes: z
    .array(
      z.object({
        frequencyHz,
        nx: z.number().int(),
        ny: z.number().int(),
        nz: z.number().int(),
        kind: z.enum(['axial', 'tangential', 'oblique']),
      }),
    )
    .exactOptional(),
  /** What the microphone does while the speaker is moved. */
  microphone: z.enum(['along', 'stays']).exactOptional(),
  /** Names of the varied surfaces. */
  variedSurfaces: z.array(z.string()).exactOptional(),
  /** Where the speaker stands now. */
  now: placementSchema.exactOptional(),
  varied: z.array(placementSchema).exactOptional(),
  /** The places with the least remaining error, the best first, each apart from the others. */
  best: z.array(placementSchema).exactOptional(),
  /**
   * Only with a measurement: where the advice of a finding would put the speaker, one place for each varied surface, the
   * others left where they are; as far as it can stand there.
   */
  advised: z.array(placementSchema).exactOptional(),
  /** Span over which the errors are taken. */
  range: z.object({ fromHz: frequencyHz, toHz: frequencyHz }).exactOptional(),
  /** How the measured curve was explained: where each surface fits, ± one standard deviation, and what it sends back. */
  fitted: z
    .array(
      z.object({
        name: z.string(),
        speakerDistanceM: lengthM,
        deviationM: z.number().min(0),
        reflects: z.array(z.object({ frequencyHz, factor: z.number().min(0) })),
      }),
    )
    .exactOptional(),
  curves: z.object({ frequencyHz: z.array(frequencyHz), nowDb: z.array(z.number()) }).exactOptional(),
  /** What the prediction cannot know, one sentence each. */
  limits: z.array(z.string()),
  warnings: z.array(warningSchema),
});

export type Prediction = z.infer<typeof predictionSchema>;
export type PredictedPlacement = z.infer<typeof placementSchema>;
export type PredictedSurface = z.infer<typeof surfaceSchema>;

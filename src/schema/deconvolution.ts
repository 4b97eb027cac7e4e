import { z } from 'zod';
import { warningSchema } from './design.js';

const numbers = z.array(z.number());

/** `deconvolve --json`. */
export const deconvolutionSchema = z.object({
  schemaVersion: z.literal(1),
  title: z.string(),
  sampleRateHz: z.number().positive(),
  /** When the sound of the sweep's first sample came, from the start of the recording. */
  sweepStartS: z.number(),
  /** The greatest sample of the recording around the sweep, relative to full scale. */
  recordedPeakDb: z.number().exactOptional(),
  /**
   * Signal to noise by octave, of all of the impulse response; absent where the recording has no silence before or after
   * the sweep to take the noise from.
   */
  octaves: z.array(z.object({ centreHz: z.number(), signalToNoiseDb: z.number() })).exactOptional(),
  /** The linear impulse response; a wire from player to recorder gives a peak of 0 dB in an unlimited band. */
  impulse: z.object({ lengthS: z.number(), peakAtS: z.number(), peakDb: z.number() }),
  /** By order from the second on, over the frequency that excites it. */
  harmonics: z.array(
    z.object({
      order: z.number().int().min(2),
      frequencyHz: numbers,
      /** On the scale of the linear response. */
      levelDb: numbers,
      /** Relative to the linear response at the exciting frequency. */
      relativeDb: numbers,
      /** What the noise alone would give in its place, relative in the same way. */
      noiseDb: numbers.exactOptional(),
    }),
  ),
  warnings: z.array(warningSchema),
});

export type DeconvolutionReport = z.infer<typeof deconvolutionSchema>;

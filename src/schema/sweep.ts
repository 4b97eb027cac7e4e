import { z } from 'zod';
import type { SweepParameters } from '../impulse/sweep/sweepParameters.js';
import { warningSchema } from './design.js';
import { readJson } from './readJson.js';

const parameters = z.object({
  fromHz: z.number(),
  toHz: z.number(),
  /** Of the sweep itself, without the silence. */
  durationS: z.number(),
  sampleRateHz: z.number(),
  /** Of the sine's peak, relative to full scale. */
  levelDb: z.number(),
  fadeInS: z.number(),
  fadeOutS: z.number(),
  silenceBeforeS: z.number(),
  silenceAfterS: z.number(),
});

/** `sweep --json`, and the file beside the sweep that `deconvolve --sweep` reads. */
export const sweepSchema = z.object({
  schemaVersion: z.literal(1),
  sweep: parameters,
  /**
   * The inverse filter: the sweep reversed in time, its envelope falling as e^(−t/timeConstantS), by `fallDb` in all.
   * The response to the n-th harmonic comes `harmonicLeadS[n − 2]` before the linear one.
   */
  inverse: z.object({
    timeConstantS: z.number(),
    fallDb: z.number(),
    harmonicLeadS: z.array(z.number()),
  }),
  warnings: z.array(warningSchema),
});

export type SweepReport = z.infer<typeof sweepSchema>;

/** Only what defines the sweep counts; the rest follows from it. */
const written = z.object({ sweep: parameters });

/**
 * The parameters of a sweep from the file that was left with it; whether they make a sweep is not checked here.
 *
 * @param expected as for `readJson`
 * @throws InputError with every problem
 */
export function readSweep(text: string, fileName: string, expected?: string): SweepParameters {
  return readJson(written, text, fileName, expected).sweep;
}

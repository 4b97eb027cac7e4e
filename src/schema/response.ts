import { z } from 'zod';
import { warningSchema } from './design.js';

const numbers = z.array(z.number());
const curve = z.object({ frequencyHz: numbers, levelDb: numbers, phaseDeg: numbers });
const range = z.object({ fromHz: z.number().positive(), toHz: z.number().positive() });

/** `response --json`. Delays and levels of reflections are relative to the direct sound. */
export const responseSchema = z.object({
  schemaVersion: z.literal(1),
  /** What was measured, as the user named it. */
  title: z.string(),
  sampleRateHz: z.number().positive(),
  /** When the direct sound comes, from the start of the file, to a fraction of a sample. */
  arrivalS: z.number(),
  /** Who set the gate's end: found, given, none (all of the file), or a window that varies with frequency. */
  gating: z.enum(['auto', 'given', 'none', 'cycles']),
  /** The stretch that was kept, relative to the arrival. */
  gate: z.object({ beforeS: z.number().min(0), afterS: z.number().positive() }),
  /** Length of the window in periods of each frequency. */
  cycles: z.number().positive().exactOptional(),
  /** Below it the curve is not resolved. */
  resolvedFromHz: z.number().positive(),
  /** Where the curve is resolved, at least 10 dB above the noise and within what was swept; absent where that is nowhere. */
  trusted: range.exactOptional(),
  /** The span of the sweep, where the file says it; nothing beyond is trusted. */
  swept: range.exactOptional(),
  /** Gated above, ungated below, the ungated part raised by `levelDb` to meet the other. */
  splice: z.object({ crossoverHz: z.number().positive(), levelDb: z.number() }).exactOptional(),
  smoothingOctaves: z.number().min(0),
  calibrated: z.boolean(),
  reflections: z.array(
    z.object({
      delayS: z.number().positive(),
      levelDb: z.number(),
      pathDifferenceM: z.number(),
      /** Distance of a wall behind the speaker that would make it. */
      behindM: z.number(),
      /** Distance of a plane alongside speaker and microphone that would make it, where their distance is known. */
      alongsideM: z.number().exactOptional(),
      /** How far it stands out of the mean energy of the 3 ms around it. */
      contrastDb: z.number(),
    }),
  ),
  /** Signal to noise by octave, in what the gate lets through; absent where the file has no stretch of noise. */
  octaves: z.array(z.object({ centreHz: z.number(), signalToNoiseDb: z.number() })).exactOptional(),
  clipped: z.boolean(),
  /** Phase from the arrival, unwrapped. */
  curve,
  /** All that was recorded over what the gate lets through: what the room makes of the speaker. */
  room: curve.exactOptional(),
  /** Of what the gate lets through, at the frequencies of `curve`; absent where it is too long for it. */
  phase: z
    .object({
      minimumPhaseDeg: numbers,
      /** Bound of the error that comes from the finite transform. */
      minimumPhaseErrorDeg: z.number(),
      /** Pure delay of the gated response after the arrival, taken out of what follows. */
      delayS: z.number(),
      excessPhaseDeg: numbers,
      excessGroupDelayS: numbers,
    })
    .exactOptional(),
  warnings: z.array(warningSchema),
});

export type ResponseReport = z.infer<typeof responseSchema>;

import type { Curve } from '../curve/curve.js';
import { bandCount } from '../device/profile/bandSlots.js';
import type { DeviceProfile } from '../device/profile/deviceProfile.js';
import { deviceSampleRateHz } from '../device/profile/deviceSampleRateHz.js';
import { readEffort } from '../fit/effort.js';
import { readAim } from '../fit/fitPositions.js';
import type { DesignOptions } from '../schema/designOptions.js';
import type { DesignRequest, MeasuredRequest } from './designRequest.js';

/** What a user gave for a design, read. */
export interface DesignInputs {
  readonly measured: Omit<MeasuredRequest, 'fromHz' | 'toHz'>;
  readonly breakpoints?: Curve;
  readonly device?: DeviceProfile;
  /** With their defaults. */
  readonly options: DesignOptions;
  /** Which of the options the user wrote: the defaults of some depend on the device. */
  readonly written: Readonly<Record<string, unknown>>;
}

/** The range that the user asked for, as a request has it. */
export function askedRange({ from, to }: DesignOptions): Pick<MeasuredRequest, 'fromHz' | 'toHz'> {
  return { ...(from !== undefined && { fromHz: from }), ...(to !== undefined && { toHz: to }) };
}

/**
 * The request that a user's files and numbers make; the same for the command line and the app.
 *
 * @throws InputError where the device does not run at the sample rate asked for
 */
export function designRequestOf(inputs: DesignInputs): DesignRequest {
  const { measured, breakpoints, device, options, written } = inputs;
  const askedRateHz = written.sampleRate === undefined ? undefined : options.sampleRate;
  return {
    ...measured,
    ...askedRange(options),
    target: {
      ...(breakpoints && { breakpoints }),
      ...(options.bassShelf !== undefined && { bassShelfDb: options.bassShelf }),
      bassShelfFrequencyHz: options.bassShelfFrequency,
      ...(options.tilt !== undefined && { tiltDbPerOctave: options.tilt }),
    },
    ...(options.level !== undefined && { levelDb: options.level }),
    ...(device && { device }),
    bands: device && written.bands === undefined ? bandCount(device) : options.bands,
    maxBoostDb: options.maxBoost,
    maxCutDb: options.maxCut,
    maxLevelLossDb: options.maxLevelLoss,
    minQ: options.qMin,
    maxQ: options.qMax,
    ...(options.shelfQMax !== undefined && { maxShelfQ: options.shelfQMax }),
    sampleRateHz: device ? deviceSampleRateHz(device, askedRateHz) : options.sampleRate,
    smoothingOctaves: options.smoothing,
    seed: options.seed,
    ...(options.repeatability !== undefined && { repeatabilityDb: options.repeatability }),
    ...(written.aim !== undefined && { aim: readAim(written.aim) }),
    ...(written.effort !== undefined && { effort: readEffort(written.effort) }),
  };
}

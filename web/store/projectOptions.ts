import type { EffortName } from '../../src/fit/effort.js';
import type { Aim } from '../../src/fit/fitPositions.js';
import type { DesignOptions } from '../../src/schema/designOptions.js';

/** A target drawn by breakpoints in Hz and dB: the content of a target file. */
export interface DrawnTarget {
  readonly breakpoints: readonly { readonly frequency: number; readonly level: number }[];
}

/** What the user chose for the fit, in Hz, dB and octaves; what is absent follows the defaults and the device. */
export type ProjectOptions = Readonly<Partial<DesignOptions>> & {
  readonly target?: 'flat' | DrawnTarget;
  /** Of several positions, whose error is made small: that of their average, or of the worst of them. */
  readonly aim?: Aim;
  /** How long a fit searches; `normal` where it is absent. */
  readonly effort?: EffortName;
  /** The name of a device that comes with the program; a file with the role `device` goes before it. */
  readonly device?: string;
};

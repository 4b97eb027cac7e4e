import type { MeasuredLength } from '../units/measuredLength.js';

export type { MeasuredLength } from '../units/measuredLength.js';

/** A reflecting plane. Both distances are taken perpendicular to it. */
export interface Surface {
  readonly name: string;
  readonly speakerDistance: MeasuredLength;
  readonly microphoneDistance: MeasuredLength;
}

/** Where the speaker and the microphone stood, in SI units; lengths are shown to the user in `lengthUnit`. */
export interface Setup {
  readonly temperatureC: number;
  /** Straight from the acoustic centre to the microphone. */
  readonly microphoneDistance: MeasuredLength;
  readonly baffleWidthM?: number;
  readonly surfaces: readonly Surface[];
  readonly room?: { readonly lengthM: number; readonly widthM: number; readonly heightM: number };
  readonly lengthUnit: 'cm' | 'in';
}

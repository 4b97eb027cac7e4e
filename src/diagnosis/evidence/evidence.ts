import type { WeightName } from './weights.js';

/** One number that speaks for or against a dip being the placement's; its weight stands in the table. */
export interface Term {
  readonly name: WeightName;
  readonly value: number;
}

/** What one kind of evidence has to say of a feature. */
export interface Evidence {
  /** In two or three words, for the summing up. */
  readonly label: string;
  /** Told by the one curve that is judged, not by another measurement. */
  readonly byCurve?: true;
  readonly terms: readonly Term[];
  /** With numbers; left out where there is nothing to tell. */
  readonly sentence?: string;
}

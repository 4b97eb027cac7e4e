/** A length as measured with a tape: value and the ± that the user gave with it (0 where none was given). */
export interface MeasuredLength {
  readonly m: number;
  readonly toleranceM: number;
}

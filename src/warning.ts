/** Something the user should know that did not stop the work. Returned, never printed from `src/`. */
export interface Warning {
  /** Stable, lower-case words joined by hyphens, for example `null-not-boosted`. */
  readonly code: string;
  /** One or two sentences: what was noticed, with numbers, and the way out. */
  readonly message: string;
  /** Where on the frequency axis it is about, if anywhere. */
  readonly frequencyHz?: number;
}

/**
 * How much each term counts for a dip being the speaker's own, as log-odds (natural logarithm) per unit. Fitted by
 * logistic regression to some 3,300 dips of three unlike simulators, late echoes among them, and of curves that are
 * nothing but filters; a dip counts as the speaker's where its direct sound alone has at least half of it
 * (`test/evaluate/ownDips.ts`; training seeds apart from those that are reported).
 */
export const OWN_WEIGHTS = {
  outset: -1.66,
  /** Octaves of width, log2 of it over 0.2, −2 to 2.5. */
  width: 0.79,
  /** log2 of the frequency over 1 kHz, −3 to 2: reflections fade upward, and there cones break up and edges bend sound. */
  height: 0.68,
  /** Other dips of like depth and width in hertz within sixteen widths, up to 5. */
  company: -0.62,
  /** log2 of its depth over ten times the fine ripple around it, −2 to 4. */
  calm: 0.54,
  /** Log-odds for the placement, −6 to 4. */
  placement: -0.51,
} as const;

export type OwnWeightName = keyof typeof OWN_WEIGHTS;
